"""What a person, or the clock, asks of a session. Each command carries its time and who gave it.

Commands are in the imperative; what came of them are events, in the past tense (`triage.record.events`).
"""

from dataclasses import dataclass, field
from typing import Literal, TypedDict

from triage.knowledge.models import Ending, Interlocks, Knowledge
from triage.record.counsel import CheckWorth, LikelyCause, Outlook, UnlikelyCause
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown
from triage.record.prices import Prices, RepairChoice
from triage.record.weights import Weights

NO_READING = -1


class Stamp(TypedDict):
    """When an event happened, by both clocks, and who is behind it."""

    at_ms: int
    who: str
    clock_ms: int
    boot: int


@dataclass(frozen=True, kw_only=True)
class Command:
    """Base of all commands.

    Args:
        at_ms: when, by the wall clock, in milliseconds since 1970-01-01 UTC.
        who: who gives it.
        clock_ms: when, by a clock that only goes forward and counts sleep [ms]; a script has one clock for both.
        boot: which start of that clock.
    """

    at_ms: int
    who: str
    clock_ms: int = NO_READING
    boot: int = 1

    def __post_init__(self) -> None:
        """Let a script's one clock stand for both."""
        if self.clock_ms == NO_READING:
            object.__setattr__(self, "clock_ms", self.at_ms)

    @property
    def stamp(self) -> Stamp:
        """What its events say of when and who."""
        return self.stamp_of(self.who)

    def stamp_of(self, who: str) -> Stamp:
        """The same, with somebody else behind it."""
        return {"at_ms": self.at_ms, "who": who, "clock_ms": self.clock_ms, "boot": self.boot}


@dataclass(frozen=True)
class Accuracy:
    """Permissible deviation of an instrument, half-widths; `source` is a key of the sources or "shop-file"."""

    relative: float = 0.0
    absolute: float = 0.0
    source: str = ""


@dataclass(frozen=True)
class Typed:
    """One part of a reading as it was typed.

    Args:
        part: id of the part.
        value: in the SI unit of the part's kind.
        spread: half-width that came with the text, same unit.
        text: what was typed, said back.
        source: "" where it was typed at the vehicle, else where the figure was taken from.
    """

    part: str
    value: float
    spread: float
    text: str
    source: str = ""


@dataclass(frozen=True, kw_only=True)
class Start(Command):
    """Open a session on one symptom."""

    knowledge: Knowledge
    symptom: str
    job: str
    words: str = ""
    accuracies: dict[str, Accuracy] = field(default_factory=dict)
    reviewer: str = ""
    prices: Prices = field(default_factory=Prices)
    weights: Weights = field(default_factory=Weights)


@dataclass(frozen=True, kw_only=True)
class AnswerGate(Command):
    """Say what electric machines the drive has; anything but "none" is turned away."""

    answer: str


@dataclass(frozen=True, kw_only=True)
class TellFact(Command):
    """Tell one fact of the vehicle; None where it is not known."""

    fact: str
    value: str | float | None


@dataclass(frozen=True, kw_only=True)
class CorrectFact(Command):
    """Put another value in the place of a fact that was told; None where it is not known after all."""

    fact: str
    value: str | float | None


@dataclass(frozen=True, kw_only=True)
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


@dataclass(frozen=True, kw_only=True)
class RefuseConfirmation(Command):
    """Say that a line of the card on screen is not so, "" for all of it; it counts at once, and why is asked after."""

    confirmation: str
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class SayWhy(Command):
    """Say which thing of the refused line is not so, and why."""

    reason: str


@dataclass(frozen=True, kw_only=True)
class SayChanged(Command):
    """Say that something happened to the vehicle or around it."""

    what: Ending


@dataclass(frozen=True, kw_only=True)
class SayAlone(Command):
    """Say that nobody else is there, or that somebody came."""

    alone: bool


@dataclass(frozen=True, kw_only=True)
class TryAgain(Command):
    """Go back to an interlock that was refused."""


@dataclass(frozen=True, kw_only=True)
class FinishSetUp(Command):
    """Say that the check on screen is set up, and that hands are out of the bay again."""

    check: str


@dataclass(frozen=True, kw_only=True)
class StartRun(Command):
    """Start the engine for a run that has a time limit."""


@dataclass(frozen=True, kw_only=True)
class EndRun(Command):
    """Say that the engine is switched off and all is still, after a timed run or at any other moment."""


@dataclass(frozen=True, kw_only=True)
class Answer(Command):
    """Answer the check on screen with one outcome, or several where the check allows it."""

    check: str
    outcomes: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Read(Command):
    """Answer the check on screen with a reading."""

    check: str
    parts: tuple[Typed, ...]


@dataclass(frozen=True, kw_only=True)
class CannotDo(Command):
    """Say that the check on screen could not be done."""

    check: str
    reason: str


@dataclass(frozen=True, kw_only=True)
class TakeBack(Command):
    """Take back the finding of a check; it is asked again."""

    check: str


@dataclass(frozen=True, kw_only=True)
class Correct(Command):
    """Put another outcome, or another reading, in the place of a finding."""

    check: str
    outcomes: tuple[str, ...] = ()
    parts: tuple[Typed, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Note(Command):
    """Add a remark in free words."""

    text: str


@dataclass(frozen=True, kw_only=True)
class EnterMakerFigure(Command):
    """Enter the vehicle maker's own figure for this job; it wins over the default.

    Args:
        figure: name of the figure (a zone's or a torque's).
        value: SI.
        text: said back.
        reference: where it stands in the maker's documents.
    """

    figure: str
    value: float
    text: str
    reference: str


@dataclass(frozen=True, kw_only=True)
class UseLayout(Command):
    """Take the layout of this vehicle's drive.

    Args:
        layout: as it was written down.
        name: what it is called.
        known: what it comes to, rounded.
    """

    layout: Layout
    name: str
    known: DriveKnown


@dataclass(frozen=True, kw_only=True)
class CompareRate(Command):
    """Compare a counted or tapped repeat with what comes round in the drive.

    Args:
        text: what was typed, said back.
        rate_hz: repeats a second.
        uncertainty_hz: its standard uncertainty.
        crank_rpm: engine speed meanwhile; None stands for the layout's idle.
    """

    text: str
    rate_hz: float
    uncertainty_hz: float
    crank_rpm: float | None = None


@dataclass(frozen=True, kw_only=True)
class TakeOwnRoute(Command):
    """Leave the tree for a check that is worth most now.

    Args:
        check: the check.
        minutes: what it takes, with the way there.
        saves_min: what going on is expected to save over ending here; nothing where no check pays and nothing is named.
    """

    check: str
    minutes: float
    saves_min: float


@dataclass(frozen=True, kw_only=True)
class EndOwnRoute(Command):
    """End the session's own route, with the cause that its findings carry or with none."""

    causes: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Pause(Command):
    """Leave the vehicle."""


@dataclass(frozen=True, kw_only=True)
class Resume(Command):
    """Come back to the vehicle.

    Args:
        under: the interlocks of this program, where they are others than those that the session brought.
    """

    under: Interlocks | None = None


@dataclass(frozen=True, kw_only=True)
class HandOver(Command):
    """Give the session to a named colleague; `head` is the trace's count and digest until here."""

    to: str
    head: str = ""


@dataclass(frozen=True, kw_only=True)
class BeginRemedy(Command):
    """Take on the remedy of the conclusion."""


@dataclass(frozen=True, kw_only=True)
class PutRight(Command):
    """Say what was done about a finding that keeps the engine from running; the check is then made again."""

    check: str
    done: str


@dataclass(frozen=True, kw_only=True)
class RecordPart(Command):
    """Say what was really done with one part of the remedy: renewed, found-good, repaired or left."""

    part: str
    done: str
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class RecordTorque(Command):
    """Say how one fastener was tightened.

    Args:
        torque: id of the torque.
        value_nm: what was set; None where it was not tightened or not applicable.
        text: said back.
        wrench: which wrench.
        reference: whose figure it was.
    """

    torque: str
    value_nm: float | None
    text: str
    wrench: str
    reference: str


@dataclass(frozen=True, kw_only=True)
class NotCured(Command):
    """Say that the complaint is still there; the search goes on."""


@dataclass(frozen=True, kw_only=True)
class Close(Command):
    """End the session: signed-off, or without-repair."""

    how: str
    reason: str = ""
    head: str = ""


@dataclass(frozen=True, kw_only=True)
class Advise(Command):
    """Record what the reasoning makes of the findings; the fields are those of `AdviceGiven`."""

    likely: tuple[LikelyCause, ...]
    checks: tuple[CheckWorth, ...] = ()
    pays: bool | None = None
    stands: Literal["", "carried", "not-carried", "contradicted", "at-odds"] = ""
    asked: Literal["", "likely", "worth", "tell"] = ""
    unlikely: tuple[UnlikelyCause, ...] = ()
    meanwhile: tuple[CheckWorth, ...] = ()
    about: str = ""
    outlooks: tuple[Outlook, ...] = ()
    unlisted: float | None = None


@dataclass(frozen=True, kw_only=True)
class AdviseRepair(Command):
    """Record which repairs pay after the findings behind a conclusion."""

    choice: RepairChoice


@dataclass(frozen=True, kw_only=True)
class TellRenewal(Command):
    """Say that a part was renewed before, and at which odometer; None where it was not after all."""

    part: str
    odometer_m: float | None


@dataclass(frozen=True, kw_only=True)
class Tick(Command):
    """Let time pass: confirmations age, runs end.

    Args:
        lost: whether nobody knows how much time has passed since the last one.
    """

    lost: bool = False


@dataclass(frozen=True, kw_only=True)
class LoseTrace(Command):
    """Say that nothing can be saved any more: an engine that runs is to be switched off."""
