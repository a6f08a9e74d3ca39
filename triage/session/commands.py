"""What a person, or the clock, asks of a session. Each command carries its time and who gave it.

Commands are in the imperative; what came of them are events, in the past tense (`triage.record.events`). What both say
alike is one payload (`triage.record.payloads`).
"""

from typing import TypedDict, TypeVar

from pydantic import Field

from triage.documents import Model
from triage.knowledge.models import Ending, Interlocks, Knowledge
from triage.record import payloads as p
from triage.record.event import Stamped
from triage.record.layouts import Predictions
from triage.record.prices import Prices
from triage.record.readings import AccuracyUsed, TypedPart
from triage.record.weights import Weights

E = TypeVar("E", bound=Stamped)


class Stamp(TypedDict):
    """When an event happened, by both clocks, and who is behind it."""

    at_ms: int
    who: str
    clock_ms: int
    boot: int


class Command(Model):
    """Base of all commands: when, and who gives it."""

    at_ms: int
    """By the wall clock, in milliseconds since 1970-01-01 UTC."""
    who: str
    clock_ms: int = Field(default_factory=lambda given: given["at_ms"])
    """By a clock that only goes forward and counts sleep [ms]; a script has one clock for both."""
    boot: int = 1
    """Which start of that clock."""

    @property
    def stamp(self) -> Stamp:
        """What its events say of when and who."""
        return self.stamp_of(self.who)

    def stamp_of(self, who: str) -> Stamp:
        """The same, with somebody else behind it."""
        return {"at_ms": self.at_ms, "who": who, "clock_ms": self.clock_ms, "boot": self.boot}

    def as_event(self, kind: type[E], **more: object) -> E:
        """The event that says what this command says, with what is more than that or another.

        Its fields are this command's: a test holds each such pair to it.
        """
        return kind.model_validate({**dict(self), **more})


class Start(Command):
    """Open a session on one symptom."""

    knowledge: Knowledge
    symptom: str
    job: str
    words: str = ""
    accuracies: dict[str, AccuracyUsed] = Field(default_factory=dict)
    reviewer: str = ""
    prices: Prices = Prices()
    weights: Weights = Weights()


class AnswerGate(p.GateAnswer, Command):
    """Say what electric machines the drive has; anything but "none" is turned away."""


class TellFact(p.Fact, Command):
    """Tell one fact of the vehicle; None where it is not known."""


class CorrectFact(p.Fact, Command):
    """Put another value in the place of a fact that was told; None where it is not known after all."""


class Confirm(Command):
    """Confirm one line of the card on screen.

    Args:
        confirmation: the line.
        name: who is at the key, or the word that was called back.
        volts: the voltage before the lead came off, and now, where it proves dead [V].
    """

    confirmation: str
    name: str = ""
    volts: tuple[float, ...] = ()


class RefuseConfirmation(Command):
    """Say that a line of the card on screen is not so, "" for all of it; it counts at once, and why is asked after."""

    confirmation: str
    reason: str = ""


class SayWhy(Command):
    """Say which thing of the refused line is not so, and why."""

    reason: str


class SayChanged(Command):
    """Say that something happened to the vehicle or around it."""

    what: Ending


class SayAlone(Command):
    """Say that nobody else is there, or that somebody came."""

    alone: bool


class TryAgain(Command):
    """Go back to an interlock that was refused."""


class FinishSetUp(p.OfCheck, Command):
    """Say that the check on screen is set up, and that hands are out of the bay again."""


class StartRun(Command):
    """Start the engine for a run that has a time limit."""


class EndRun(Command):
    """Say that the engine is switched off and all is still, after a timed run or at any other moment."""


class Answer(p.Answered, Command):
    """Answer the check on screen with one outcome, or several where the check allows it."""


class TellFinding(p.FoundBefore, Command):
    """Tell what somebody found before this session: outcomes, or the parts of a reading."""


class Read(p.OfCheck, Command):
    """Answer the check on screen with a reading."""

    parts: tuple[TypedPart, ...]


class ThrowAway(p.ReadingOfCheck, Command):
    """Say that one reading of the check on screen counts no more, and why."""


class CannotDo(p.NotDone, Command):
    """Say that the check on screen could not be done."""


class LeaveRound(Command):
    """Leave the open lines of the round on screen open; the tree asks for them one by one where it needs them."""


class CloseRound(Command):
    """Say that nothing else was found: the normal outcome of these lines of the round on screen.

    Args:
        checks: what was listed and read before it was said; what was struck out of that list is left open.
    """

    checks: tuple[str, ...]


class AskFor(Command):
    """Ask for a check at once, "" to go back to what the tree asks."""

    check: str


class RaiseAlarm(Command):
    """Say that a running engine must be switched off: thrown, smoke, spray, a new knock, a warning lamp."""


class TakeBack(p.OfCheck, Command):
    """Take back the finding of a check; it is asked again."""


class Undo(Command):
    """Take back the last thing that was done, whatever it was, and nothing else."""


class Correct(p.OfCheck, Command):
    """Put another outcome, or another reading, in the place of a finding."""

    outcomes: tuple[str, ...] = ()
    parts: tuple[TypedPart, ...] = ()


class Note(p.Remark, Command):
    """Add a remark in free words."""


class EnterMakerFigure(p.MakerFigure, Command):
    """Enter the vehicle maker's own figure for this job; it wins over the default."""


class UseLayout(p.UsedLayout, Command):
    """Take the layout of this vehicle's drive."""


class CompareRate(Command):
    """Compare a counted or tapped repeat with what comes round in the drive."""

    text: str
    """What was typed, said back."""
    rate_hz: float
    uncertainty_hz: float
    """Its standard uncertainty."""
    crank_rpm: float | None = None
    """Engine speed meanwhile; None stands for the layout's idle."""


class CompareDrive(Command):
    """Keep what other pulleys and the usual faults would do in this drive."""

    predictions: Predictions


class TakeOwnRoute(p.OwnStep, Command):
    """Leave the tree for a check that is worth most now."""


class EndOwnRoute(Command):
    """End the session's own route, with the cause that its findings carry or with none."""

    causes: tuple[str, ...]


class Pause(Command):
    """Leave the vehicle."""


class Resume(Command):
    """Come back to the vehicle."""

    under: Interlocks | None = None
    """The interlocks of this program, where they are others than those that the session brought."""


class HandOver(p.HandedOver, Command):
    """Give the session to a named colleague."""

    head: str = ""


class BeginRemedy(Command):
    """Take on the remedy of the conclusion."""


class PutRight(p.Mended, Command):
    """Say what was done about a finding that keeps the engine from running; the check is then made again."""


class NamePlace(p.Place, Command):
    """Say where the remedy on screen is done."""


class RecordPart(p.PartDone, Command):
    """Say what was really done with one part of the remedy."""

    note: str = ""


class RecordTorque(p.TorqueDone, Command):
    """Say how one fastener was tightened."""


class NotCured(Command):
    """Say that the complaint is still there, or that another fault was seen; the search goes on."""

    another: bool = False


class LeaveProofOpen(Command):
    """Leave the vehicle with the repair done and the complaint not proved gone: the session stays open."""


class Close(Command):
    """End the session: signed-off, or without-repair."""

    how: str
    reason: str = ""
    off: tuple[str, ...] = ()
    """The lines of what is taken off before a vehicle leaves that were said to be so, where it leaves unrepaired."""
    head: str = ""


class Advise(p.Counsel, Command):
    """Record what the reasoning makes of the findings."""


class AdviseRepair(p.Costs, Command):
    """Record which repairs pay after the findings behind a conclusion."""


class TellRenewal(p.Renewal, Command):
    """Say that a part was renewed before, and at which odometer; None where it was not after all."""


class Tick(Command):
    """Let time pass: confirmations age, runs end."""

    lost: bool = False
    """Whether nobody knows how much time has passed since the last one."""


class LoseTrace(Command):
    """Say that nothing can be saved any more: an engine that runs is to be switched off."""
