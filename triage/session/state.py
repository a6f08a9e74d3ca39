"""Where a session stands: a frozen value made from its events and nothing else."""

from dataclasses import dataclass, field
from typing import Literal

from triage.knowledge.models import PULLEY_TYPES, Pulley
from triage.knowledge.vehicle import Vehicle, vehicle_of
from triage.record.counsel import LikelyCause
from triage.record.layouts import MatchedRate, Predictions
from triage.record.payloads import Counsel, MakerFigure, OwnStep, PartDone, TorqueDone, UsedLayout
from triage.record.prices import Prices, RepairChoice
from triage.record.readings import AccuracyUsed, MeasuredOnce, TypedPart, Verdict
from triage.record.steps import Step
from triage.record.weights import Weights

Stage = Literal["finding", "working", "proving", "closed"]


def person(name: str) -> str:
    """A name without what spelling it differently makes of one person."""
    return " ".join(name.casefold().split())


@dataclass(frozen=True)
class Finding:
    """What a check came to; no outcomes means that it could not be done.

    Args:
        check: id of the check.
        outcomes: outcome ids, the normal one included.
        at_ms: when.
        who: who found it.
        said: what was typed, for a reading.
        verdict: how the reading was judged.
        by_itself: what the reading came to by itself, of one that is to be weighed with others.
        parts: what was typed for such a one.
        reason: why it could not be done.
        took_ms: how long it was on screen before it was answered, by the forward clock.
        way: which of its reading's ways was taken, "" for the reading's own.
    """

    check: str
    outcomes: tuple[str, ...]
    at_ms: int
    who: str
    said: str = ""
    verdict: Verdict | None = None
    by_itself: MeasuredOnce | None = None
    parts: tuple[TypedPart, ...] = ()
    reason: str = ""
    way: str = ""
    took_ms: int = 0
    told_by: str = ""


@dataclass(frozen=True)
class Prepared:
    """A check that is set up, and the state in which it is to be made."""

    check: str
    running: str


@dataclass(frozen=True)
class Condition:
    """Engine, belt and battery as the session last left them."""

    engine: str = "stopped"
    belt: str = "fitted"
    battery: str = "connected"

    @property
    def open(self) -> frozenset[str]:
        """Which of belt and battery has to be put together again."""
        apart = (("belt", self.belt == "removed"), ("battery", self.battery == "isolated"))
        return frozenset(what for what, is_apart in apart if is_apart)


@dataclass(frozen=True)
class Concluded:
    """What the tree came to, or the session on its own route."""

    causes: tuple[str, ...]
    end: str
    node: str
    path: tuple[str, ...]
    close_calls: tuple[str, ...]
    own: bool = False


@dataclass(frozen=True)
class Act:
    """One thing that somebody did, and where the session stood before.

    Args:
        kind: the kind of its event.
        about: the check, fact, part, fastener or lines that it was about.
        at: number of events before it.
        clock_ms: when, by the forward clock.
        before: the state without its own acts.
    """

    kind: str
    about: tuple[str, ...]
    at: int
    clock_ms: int
    before: "State"


@dataclass(frozen=True)
class State:
    """Everything a session knows about itself.

    `looked_up` are the facts that were told where they were asked for, by the maker's picture.
    `told` keeps findings in the order of telling, those that were replaced or taken back too: of each answer to a check
    the first time and the last. `standing` is what was confirmed and nothing has ended, with the reading of the forward
    clock at which it was; `due` what the vehicle arrived with in order and was undone since; `opened` which of belt and
    battery were ever off or isolated; `inside` the vehicle state entered last, "" once something of it has ended.
    `present` is who acted at the vehicle or was named at the key since it was taken up, as `person` has it.
    `stopped` is what nothing but the stop of the engine has ended; `named` who was named last for what.
    `first_readings` are the readings so far of each check that is not decided by them.
    `counsel` is the last advice, `fresh` whether nothing has happened since that it does not know of.
    `match` is the counted repeat that was last compared with the `layout`, `predictions` what others
    than its pulley would do in it.
    `ever` is what was confirmed since the vehicle was last taken up; `denied` what was last said not to be so, which
    stands until it is confirmed; `unexplained` of what nobody has said yet why it is not.
    `ended` is why confirmations ended last. `recap_ms` is when it was last said that all is as before.
    `look_again` are the looks that let an engine run and were made before the vehicle was driven, left or worked on.
    `clock_ms` and `boot` are the last reading of the forward clock; every other time but `started_ms` and `last_ms`,
    which are the wall clock's, is such a reading too, of the same boot.
    `round` is the round that was begun last, until the engine stops; `left` are lines that a round left open, which the
    tree asks for one by one; `in_run` what was found since the engine was last started; `asked` the check that somebody
    asked for.
    `asked_ms` is when the step was offered; `quick` how many lines were answered faster than anybody reads them.
    `pending` are the checks that a proof which was left open waits for; `proof` is what the session ended with.
    `acts` is what was done last, for taking it back; two states are alike whatever led to them.
    What is `prepared` counts only on the way from the set-up to the running engine, and while that runs.
    """

    symptom: str = ""
    job: str = ""
    words: str = ""
    reviewer: str = ""
    holder: str = ""
    started_ms: int = 0
    last_ms: int = 0
    clock_ms: int = 0
    boot: int = 0
    rules: int = 0
    events: int = 0
    stage: Stage = "finding"
    gate: str = ""
    facts: dict[str, str | float | None] = field(default_factory=dict)
    looked_up: frozenset[str] = frozenset()
    accuracies: dict[str, AccuracyUsed] = field(default_factory=dict)
    maker: dict[str, MakerFigure] = field(default_factory=dict)
    layout: UsedLayout | None = None
    match: MatchedRate | None = None
    predictions: Predictions | None = None
    findings: dict[str, Finding] = field(default_factory=dict)
    after: dict[str, Finding] = field(default_factory=dict)
    told: tuple[Finding, ...] = ()
    first_readings: dict[str, tuple[Finding, ...]] = field(default_factory=dict)
    standing: dict[str, int] = field(default_factory=dict)
    due: frozenset[str] = frozenset()
    opened: frozenset[str] = frozenset()
    inside: str = ""
    stopped: frozenset[str] = frozenset()
    named: dict[str, str] = field(default_factory=dict)
    present: frozenset[str] = frozenset()
    alone: bool = False
    recap: frozenset[str] = frozenset()
    recap_ms: int = 0
    running_since_ms: int = 0
    prepared: tuple[Prepared, ...] = ()
    look_again: tuple[str, ...] = ()
    ever: frozenset[str] = frozenset()
    denied: frozenset[str] = frozenset()
    held: str = ""
    unexplained: str = ""
    ended: str = ""
    condition: Condition = Condition()
    engine_ran_ms: int | None = None
    runs: int = 0
    run: Literal["", "running", "overdue", "result"] = ""
    run_until_ms: int = 0
    run_check: str = ""
    concluded: Concluded | None = None
    own: tuple[OwnStep, ...] = ()
    counsel: Counsel | None = None
    fresh: bool = False
    prices: Prices = field(default_factory=Prices)
    weights: Weights = field(default_factory=Weights)
    renewed_at_m: dict[str, float] = field(default_factory=dict)
    costs: RepairChoice | None = None
    remedies: tuple[str, ...] = ()
    places: dict[str, str] = field(default_factory=dict)
    parts_done: tuple[PartDone, ...] = ()
    torques_done: tuple[TorqueDone, ...] = ()
    put_right: tuple[str, ...] = ()
    rounds: int = 1
    round: str = ""
    left: frozenset[str] = frozenset()
    in_run: dict[str, tuple[str, ...]] = field(default_factory=dict)
    asked: str = ""
    asked_ms: int = 0
    quick: int = 0
    pending: tuple[str, ...] = ()
    proof: Literal["", "proved-gone", "not-provable", "not-cured"] = ""
    paused: bool = False
    closed: str = ""
    step: Step = field(default_factory=lambda: Step(kind="gate"))
    acts: tuple[Act, ...] = field(default=(), compare=False, repr=False)

    @property
    def pulley(self) -> Pulley:
        """The specified pulley type as told, unknown until then."""
        told = self.facts.get("pulley")
        return next((kind for kind in PULLEY_TYPES if kind == told), "unknown")

    @property
    def vehicle(self) -> Vehicle:
        """What was told of the vehicle, as far as it decides what is asked."""
        return vehicle_of({**self.facts, "pulley": self.pulley})

    @property
    def likely(self) -> tuple[LikelyCause, ...]:
        """The likeliest causes by the last advice."""
        return self.counsel.likely if self.counsel else ()

    @property
    def known(self) -> dict[str, Finding]:
        """The findings that count now: those made after the repair replace those before."""
        return {**self.findings, **self.after}
