"""What happened in a session, past tense, never changed. A trace is a list of these.

Everything that was computed (verdicts, the next step) stands in an event as rounded figures, so that replay reads and
computes nothing.
"""

from typing import Literal, get_args

from triage.knowledge.models import Ending, Interlocks, Knowledge
from triage.record import payloads as p
from triage.record.event import Stamped
from triage.record.layouts import MatchedRate, Predictions
from triage.record.prices import Prices
from triage.record.readings import AccuracyUsed, Doubt, MeasuredOnce, TypedPart, Verdict
from triage.record.steps import Step
from triage.record.weights import Weights


class SessionStarted(Stamped):
    """A session was opened; the knowledge it uses travels here."""

    kind = "session-started"
    format: Literal[1, 2] = 2
    """Version of the trace format; from 2 on the knowledge is stored apart, and the line names its digest."""
    rules: int = 1
    """Version of the safety rules under which the session was begun."""
    symptom: str
    job: str
    words: str
    accuracies: dict[str, AccuracyUsed]
    reviewer: str
    prices: Prices = Prices()
    weights: Weights = Weights()
    knowledge: Knowledge


class GateAnswered(p.GateAnswer, Stamped):
    """The first question was answered."""

    kind = "gate-answered"


class FactTold(p.Fact, Stamped):
    """A fact of the vehicle was told, or said to be unknown."""

    kind = "fact-told"


class FactCorrected(p.Fact, Stamped):
    """A fact of the vehicle was put right; `repairing` where a repair was begun before, which stands as it was."""

    kind = "fact-corrected"
    before: str | float | None
    repairing: bool


class ThingConfirmed(Stamped):
    """One line of an interlock was confirmed.

    `says` are the lines that stand by it, where it says others again; `proof` is what was typed with it. `quick` where
    it was answered faster than anybody reads it, `alone` where who answers is the one at the key.
    """

    kind = "thing-confirmed"
    later = frozenset({"says", "proof", "quick", "alone"})
    state: str
    confirmation: str
    name: str
    says: tuple[str, ...] = ()
    proof: tuple[str, ...] = ()
    quick: bool = False
    alone: bool = False

    @property
    def lines(self) -> tuple[str, ...]:
        """Every line that stands by it."""
        return self.says or (self.confirmation,)


class ThingsCarried(Stamped):
    """What was confirmed for the state before goes along into this one; `since` is when each was confirmed."""

    kind = "things-carried"
    state: str
    since: dict[str, int]

    @property
    def carried(self) -> tuple[str, ...]:
        """Every confirmation that it names."""
        return tuple(self.since)


class ThingRefused(Stamped):
    """One thing of an interlock was said not to be so; `says` are the lines that it would have said again."""

    kind = "thing-refused"
    later = frozenset({"says"})
    state: str
    confirmation: str
    reason: str
    says: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        """Every line that is not so by it."""
        return self.says or (self.confirmation,)


class RefusalExplained(Stamped):
    """It was said which thing of a refused line is not so, and why."""

    kind = "refusal-explained"
    confirmation: str
    reason: str


class SomethingChanged(Stamped):
    """Somebody said that something happened to the vehicle, or around it, that the session did not ask for."""

    kind = "something-changed"
    what: Ending


class AloneSaid(Stamped):
    """Somebody said that nobody else is there, or that somebody came."""

    kind = "alone-said"
    alone: bool


class ThingsEnded(Stamped):
    """These lines stand no more. Those that a vehicle arrives with in order are asked for from here on."""

    kind = "things-ended"
    things: tuple[str, ...]
    because: str


class LooksEnded(Stamped):
    """These looks were made before the vehicle was driven, left or worked on; they come before the next start."""

    kind = "looks-ended"
    checks: tuple[str, ...]


class HeldTriedAgain(Stamped):
    """A refused interlock was taken up again."""

    kind = "held-tried-again"


class StateEntered(Stamped):
    """Every confirmation stands: the vehicle is in this state."""

    kind = "state-entered"
    state: str
    engine: str
    belt: str
    battery: str


class VehicleTurned(Stamped):
    """The belt is on again, or the battery connected: somebody said so on a card."""

    kind = "vehicle-turned"
    belt: str
    battery: str


Because = Literal[
    "aged",
    "paused",
    "corrected",
    "clock-jumped",
    "handed-over",
    "run-over",
    "refused",
    "not-saved",
    "switched-off",
]


class InterlockLapsed(Stamped):
    """Confirmations no longer hold and must be given again."""

    kind = "interlock-lapsed"
    state: str
    because: Because


class SetUpFinished(p.OfCheck, Stamped):
    """A check with the engine running was set up by hand, in the state `state`, to be made in `running`."""

    kind = "set-up-finished"
    state: str
    running: str


class RunStarted(Stamped):
    """The engine was started for a run with a time limit."""

    kind = "run-started"
    state: str
    until_ms: int


class RunEnded(Stamped):
    """A run was over."""

    kind = "run-ended"
    because: Literal["switched-off", "time-limit", "interrupted"]


class AlarmRaised(Stamped):
    """Beside a running engine something was thrown, smoked, sprayed or knocked, or a warning lamp came on."""

    kind = "alarm-raised"


class EngineOff(Stamped):
    """The engine was said to be off and all to be still, outside of a timed run."""

    kind = "engine-off"


class ClockShifted(Stamped):
    """The wall clock moved against the clock that only goes forward, by so much since the last event [ms]."""

    kind = "clock-shifted"
    by_ms: int


class CheckAnswered(p.Answered, Stamped):
    """A check had an outcome; `closed_with_round` where it was one of several that nothing else was found at."""

    kind = "check-answered"
    later = frozenset({"closed_with_round"})
    proving: bool
    closed_with_round: bool = False


class FindingTold(p.FoundBefore, Stamped):
    """Somebody found this before the session; nobody here has seen it. `verdict` where a reading was told."""

    kind = "finding-told"
    verdict: Verdict | None = None


class ReadingTaken(Stamped):
    """A check had a reading, which was judged; `way` names another way than the reading's own.

    The verdict is of all readings that are `weighed`, said as they were typed; `apart` are those that
    do not agree with them. Where none is weighed, it is of this reading alone, and without an outcome all are apart.
    `by_itself` is what this one came to where others count too. `doubts` were asked back, and stand by somebody's word.
    """

    kind = "reading-taken"
    later = frozenset({"by_itself", "weighed", "apart", "doubts"})
    check: str
    way: str = ""
    parts: tuple[TypedPart, ...]
    verdict: Verdict
    outcome: str
    attempt: int
    proving: bool
    by_itself: MeasuredOnce | None = None
    weighed: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()


class ReadingThrownAway(p.ReadingOfCheck, Stamped):
    """One reading of the check on screen counts no more."""

    kind = "reading-thrown-away"
    text: str


class CheckNotDone(p.NotDone, Stamped):
    """A check could not be done."""

    kind = "check-not-done"
    proving: bool


class RoundLeft(Stamped):
    """These lines of a round were left open; the tree asks for them one by one where it needs them."""

    kind = "round-left"
    round: str
    checks: tuple[str, ...]


class CheckAskedFor(p.OfCheck, Stamped):
    """Somebody asked for a check that the tree does not ask for now; "" where that was taken back."""

    kind = "check-asked-for"


class FindingTakenBack(p.OfCheck, Stamped):
    """A finding was taken back."""

    kind = "finding-taken-back"


class NoteAdded(p.Remark, Stamped):
    """A remark was written down."""

    kind = "note-added"


class ActUndone(Stamped):
    """The last thing that somebody did was taken back; `act` is the kind of its event, `about` what it was about."""

    kind = "act-undone"
    act: str
    about: tuple[str, ...]


class MakerFigureEntered(p.MakerFigure, Stamped):
    """The vehicle maker's figure was entered and is used from here on."""

    kind = "maker-figure-entered"


class LayoutUsed(p.UsedLayout, Stamped):
    """The layout of this vehicle's drive was taken, with what it comes to in rounded figures."""

    kind = "layout-used"


class RateMatched(Stamped):
    """A counted repeat was compared with what comes round in the drive."""

    kind = "rate-matched"
    match: MatchedRate


class DriveCompared(Stamped):
    """It was worked out what other pulleys and the usual faults would do in this drive."""

    kind = "drive-compared"
    predictions: Predictions


class SessionPaused(Stamped):
    """The vehicle was left."""

    kind = "session-paused"


class SessionResumed(Stamped):
    """The vehicle was taken up again."""

    kind = "session-resumed"


class RulesInstalled(Stamped):
    """The session goes on under the interlocks of the program that took it up, not under those that it brought."""

    kind = "rules-installed"
    rules: int
    interlocks: Interlocks


class SessionHandedOver(p.HandedOver, Stamped):
    """A named colleague has the session now; count and digest of the trace until here."""

    kind = "session-handed-over"


class ConclusionReached(Stamped):
    """The tree came to causes, or to an end without one."""

    kind = "conclusion-reached"
    node: str
    causes: tuple[str, ...]
    end: str
    path: tuple[str, ...]
    close_calls: tuple[str, ...]


class OwnRouteTaken(p.OwnStep, Stamped):
    """The session leaves the tree for a check of its own choice.

    Figures are expected ones: what the check takes with the way there, and what going on saves over ending here.
    """

    kind = "own-route-taken"


class OwnRouteEnded(Stamped):
    """No further check pays on the session's own route: the cause that its findings carry, or none."""

    kind = "own-route-ended"
    causes: tuple[str, ...]
    path: tuple[str, ...]
    close_calls: tuple[str, ...]


class AdviceGiven(p.Counsel, Stamped):
    """What the findings so far make likely, the likeliest first, the causes of a conclusion included.

    No cause where the findings contradict each other. `checks` are those worth most for their minutes, of those that
    may be made. `pays` says whether one of them is worth its minutes, `stands` how findings and conclusion go together;
    traces from before they were weighed say neither. `asked` is the word that asked for it; "" where nobody did.
    `unlikely` are other causes that the findings rule out, or nearly; `meanwhile` the checks that pay while the vehicle
    is taken apart for the remedy. `outlooks` are what the outcomes of the check `about` would do. `unlisted` is how
    likely something made the complaint that is not listed; None without one, and in older traces.
    """

    kind = "advice-given"


class CostsWeighed(p.Costs, Stamped):
    """Which repairs pay after the findings behind a conclusion, with the prices of the session."""

    kind = "costs-weighed"


class RenewalTold(p.Renewal, Stamped):
    """A part was said to have been renewed before, at this odometer; None where it was not after all."""

    kind = "renewal-told"


class RemedyBegun(Stamped):
    """The remedy was taken on."""

    kind = "remedy-begun"
    remedies: tuple[str, ...]


class PlaceNamed(p.Place, Stamped):
    """It was said where the remedy is done."""

    kind = "place-named"


class FaultPutRight(p.Mended, Stamped):
    """Something that kept the engine from running was put right; its check is made again."""

    kind = "fault-put-right"


class PartRecorded(p.PartDone, Stamped):
    """What was really done with one part."""

    kind = "part-recorded"


class TorqueRecorded(p.TorqueDone, Stamped):
    """How one fastener was really tightened; `off` where that is further from its figure than the wrench may be."""

    kind = "torque-recorded"
    later = frozenset({"figure", "off"})
    off: bool = False


class WorkFinished(Stamped):
    """Everything of the remedy is recorded; the proof begins."""

    kind = "work-finished"


class ProofLeftOpen(Stamped):
    """The complaint cannot be proved gone here now; `again` are the checks to be made when somebody comes back."""

    kind = "proof-left-open"
    again: tuple[str, ...]


class NotCured(Stamped):
    """The search goes on. `stale` findings were about parts that are renewed now.

    The complaint is still there; or, with `another`, it is gone, and another fault was seen.
    """

    kind = "not-cured"
    later = frozenset({"another"})
    stale: tuple[str, ...]
    another: bool = False


class SessionClosed(Stamped):
    """The session ended."""

    kind = "session-closed"
    how: Literal["signed-off", "without-repair", "turned-away"]
    reason: str
    not_proved: tuple[str, ...]
    head: str
    later = frozenset({"proof"})
    proof: Literal["", "proved-gone", "not-provable", "not-cured"] = ""
    """What is proved of the complaint; nothing where no repair was begun."""


class StepOffered(Stamped):
    """What the session asked for next."""

    kind = "step-offered"
    step: Step


class NotUnderstood(Stamped):
    """Something happened that this program knows nothing of: a newer one wrote it. It is never written."""

    kind = "not-understood"
    what: str
    of_version: int


JUMP_MS = 60_000
"""A wall clock that moved by more ends every confirmation. From memory: no computer's clock is put right by so much."""

OfVehicle = (
    SessionStarted | GateAnswered | FactTold | FactCorrected | RenewalTold | LayoutUsed | RateMatched | DriveCompared
)
"""What vehicle it is, and what its drive does."""
OfInterlock = (
    ThingConfirmed
    | ThingsCarried
    | ThingRefused
    | RefusalExplained
    | HeldTriedAgain
    | StateEntered
    | VehicleTurned
    | InterlockLapsed
    | SomethingChanged
    | AloneSaid
    | ThingsEnded
    | LooksEnded
)
"""What is confirmed before hands go in or an engine runs, and how that ends."""
OfEngine = SetUpFinished | RunStarted | RunEnded | AlarmRaised | EngineOff | ClockShifted
"""The engine, its timed runs, and the clock that they go by."""
OfChecks = (
    CheckAnswered
    | FindingTold
    | ReadingTaken
    | ReadingThrownAway
    | CheckNotDone
    | RoundLeft
    | CheckAskedFor
    | FindingTakenBack
    | FaultPutRight
    | MakerFigureEntered
)
"""What was looked at and measured."""
OfReasoning = ConclusionReached | OwnRouteTaken | OwnRouteEnded | AdviceGiven | CostsWeighed
"""What was made of the findings."""
OfRepair = RemedyBegun | PlaceNamed | PartRecorded | TorqueRecorded | WorkFinished | ProofLeftOpen | NotCured
"""What was done about it, and whether that held."""
OfKeeping = (
    StepOffered
    | NoteAdded
    | SessionPaused
    | SessionResumed
    | RulesInstalled
    | SessionHandedOver
    | SessionClosed
    | ActUndone
    | NotUnderstood
)
"""What keeps a session together from hand to hand and from day to day."""
Event = OfVehicle | OfInterlock | OfEngine | OfChecks | OfReasoning | OfRepair | OfKeeping
"""Every event there is. A match over them, or over one family, ends in `assert_never`: none can be forgotten."""

KINDS: dict[str, type[Event]] = {event.kind: event for event in get_args(Event) if event is not NotUnderstood}
