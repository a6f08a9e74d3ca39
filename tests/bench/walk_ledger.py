"""What was said of each thing of an interlock, kept from the events of a session alone.

The definition that it holds a session to: for each thing, what was said of it last. A step may stand only while every
thing that its vehicle state lists was last said to be so, nothing has ended it, and time is within its limits by a
clock that only goes forward. While the engine counts as running and nothing that allows it stands, only "switch it
off" may be on screen.

It shares no code with the rules that it is held against, it never judges what happened, and a forged trace does not
make it stumble.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, NamedTuple

from triage.knowledge.models import Knowledge, VehicleState
from triage.record import events as e
from triage.record.steps import Step
from triage.units import parse_quantity

SECOND_MS = 1000
JUMP_MS = 60 * SECOND_MS
"""A wall clock that moves by more ends everything."""
IN_HAND = "in-hand-"
AT_THE_VEHICLE = ("check", "run", "run-ready", "set-up", "part", "torque")
"""Steps for which somebody stands at the vehicle, in the state that the step names."""
WHILE_IT_RUNS_ON = ("switch-off", "run-over", "paused", "closed")
"""What may be on screen while the engine runs and nothing that allows it stands."""


@cache
def lasts_ms(text: str) -> float:
    """A period of the knowledge in milliseconds."""
    return parse_quantity(text, "time").value * SECOND_MS


class Moment(NamedTuple):
    """A reading of the clock that only goes forward, and which start of that clock it belongs to."""

    boot: int
    clock_ms: int


@dataclass(frozen=True)
class Said:
    """What was said of a thing last; `order` is the place among the events."""

    so: bool
    state: str
    at: Moment
    order: int


class Place(NamedTuple):
    """Where the vehicle may be; half way into a state counts."""

    state: str
    engine: str
    belt: str
    battery: str


@dataclass
class Ledger:
    """Takes events and says what stands against a step.

    Args:
        knowledge: what the session uses.
    """

    knowledge: Knowledge
    said: dict[str, Said] = field(default_factory=dict)
    ended: dict[str, str] = field(default_factory=dict)
    standing: str = ""
    entered: bool = False
    needed: frozenset[str] = frozenset()
    carried: frozenset[str] = frozenset()
    begun_at: int = 0
    engine_on: bool = False
    been: list[Place] = field(default_factory=lambda: [Place("", "stopped", "fitted", "connected")])
    order: int = 0
    now: Moment | None = None
    wall_ms: int = 0

    def see(self, event: e.Event) -> None:
        """Take one event into account."""
        moment = Moment(event.boot, event.clock_ms)
        if self.now and (moment.boot != self.now.boot or moment.clock_ms < self.now.clock_ms):
            self.end_all("another clock", once=True)
        if abs(self.shift_ms(event)) > JUMP_MS:
            self.end_all("the wall clock jumped", once=True)
        self.now, self.wall_ms, self.order = moment, event.at_ms, self.order + 1
        taken = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if taken:
            taken(event)

    def shift_ms(self, event: e.Event) -> int:
        """How far the wall clock moved against the other one since the event before."""
        if self.now is None or event.boot != self.now.boot:
            return 0
        return (event.at_ms - self.wall_ms) - (event.clock_ms - self.now.clock_ms)

    def end_all(self, why: str, *, once: bool = False) -> None:
        """Nothing counts any more; what is asked once goes on counting unless the vehicle was left, or time is lost."""
        for thing in self.said:
            if once or not self._is_once(thing):
                self.ended.setdefault(thing, why)
        self.standing, self.entered, self.carried = "", False, frozenset()

    def objection(self, step: Step, now: Moment) -> str:
        """Why a step must not be on screen now, or ""."""
        if self.engine_on and not self._stands(now) and step.kind not in WHILE_IT_RUNS_ON:
            return f"{step.kind} is offered, and the engine runs with nothing confirmed"
        if step.kind == "switch-off" and not self.engine_on:
            return "an engine that is off is to be switched off"
        if step.kind not in AT_THE_VEHICLE or step.state not in self.knowledge.states:
            return ""
        if (self.standing, self.entered) != (step.state, True):
            return f"{step.kind} is offered outside of {step.state}"
        lacking = "; ".join(self._lacking(step, now))
        return f"{step.kind} is offered in {step.state}: {lacking}" if lacking else ""

    def before(self, order: int) -> set[str]:
        """What counts in the standing state and was said before a place among the events."""
        listed = self.needed | {thing for thing in self.said if thing.startswith(IN_HAND)}
        counting = {thing for thing in listed if thing in self.said and thing not in self.ended}
        return {thing for thing in counting if self.said[thing].order < order and not self._is_once(thing)}

    def counting(self) -> list[str]:
        """What was said to be so, and nothing has ended; not what is asked once."""
        so = (thing for thing, last in self.said.items() if last.so)
        return [thing for thing in so if thing not in self.ended and not self._is_once(thing)]

    def _lacking(self, step: Step, now: Moment) -> Iterator[str]:
        target = self.knowledge.states[step.state]
        check = self.knowledge.checks.get(step.check)
        in_hand = (IN_HAND + step.check,) if check and check.consumes and step.kind != "set-up" else ()
        for thing in (*target.confirmations, *in_hand):
            last = self.said.get(thing)
            if last and not last.so:
                yield f"{thing} was last said not to be so"
            elif thing not in self.needed and thing not in in_hand:
                continue
            elif last is None:
                yield f"{thing} was never said"
            elif thing in self.ended:
                yield f"{thing} was ended: {self.ended[thing]}"
            elif not self._is_once(thing) and not _within(last.at, now, target):
                yield f"{thing} has aged"

    def _stands(self, now: Moment) -> bool:
        target = self.knowledge.states.get(self.standing)
        return target is not None and all(_within(self.said[thing].at, now, target) for thing in self.counting())

    def _is_once(self, thing: str) -> bool:
        known = self.knowledge.confirmations.get(thing)
        return known is not None and known.once

    def _begin(self, state: str, kept: frozenset[str] = frozenset()) -> None:
        """Another vehicle state is begun: nothing of the one before counts any more but what is kept."""
        for thing in self.said:
            if thing not in kept and not self._is_once(thing):
                self.ended.setdefault(thing, f"{state} was begun")
        self.standing, self.entered, self.carried, self.begun_at = state, False, kept, self.order

    def _may_be_in(self, state: str) -> None:
        place = self.knowledge.states.get(state)
        if place:
            self.been.append(Place(place.id, place.engine, place.belt, place.battery))

    def _counts(self, thing: str, state: str) -> bool:
        known = self.knowledge.confirmations.get(thing)
        after: dict[Any, str] = dict(known.after) if known else {}
        from_there = [place for place in self.been if place.state != state]
        return not after or any(getattr(place, what) == was for place in from_there for what, was in after.items())

    def _thing_confirmed(self, event: e.ThingConfirmed) -> None:
        if event.state != self.standing:
            self._begin(event.state)
        moment = Moment(event.boot, event.clock_ms)
        self.said[event.confirmation] = Said(so=True, state=event.state, at=moment, order=self.order)
        self.ended.pop(event.confirmation, None)
        if not self.entered:
            self._may_be_in(event.state)

    def _things_carried(self, event: e.ThingsCarried) -> None:
        self._begin(event.state, frozenset(event.since))
        self._may_be_in(event.state)

    def _thing_refused(self, event: e.ThingRefused) -> None:
        moment = Moment(event.boot, event.clock_ms)
        if event.confirmation in self.counting():
            self.end_all("something of it was refused")
        self.said[event.confirmation] = Said(so=False, state=event.state, at=moment, order=self.order)
        for thing in self.carried:
            self.ended.setdefault(thing, "it was carried from before a refusal")
        if self.engine_on:
            self.end_all("something was refused while the engine ran")
        self._may_be_in(event.state)

    def _state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states.get(event.state)
        listed = target.confirmations if target else ()
        self.needed = frozenset(thing for thing in listed if self._counts(thing, event.state))
        self.standing, self.entered = event.state, True
        self.engine_on = event.engine != "stopped"
        self.been = [Place(event.state, event.engine, event.belt, event.battery)]

    def _run_started(self, _event: e.RunStarted) -> None:
        self._engine(on=True)

    def _run_ended(self, event: e.RunEnded) -> None:
        self._engine(on=event.because != "switched-off")
        self.end_all("the run was over")

    def _engine_off(self, _event: e.Event) -> None:
        self._engine(on=False)
        self.end_all("the engine was switched off")

    def _engine(self, *, on: bool) -> None:
        self.engine_on = on
        self.been = [place._replace(engine="running" if on else "stopped") for place in self.been]

    def _interlock_lapsed(self, event: e.InterlockLapsed) -> None:
        self.end_all(event.because, once=event.because == "clock-jumped")

    def _session_paused(self, _event: e.SessionPaused) -> None:
        self.end_all("the vehicle was left", once=True)

    def _session_handed_over(self, _event: e.SessionHandedOver) -> None:
        self.end_all("the session was handed over", once=True)

    def _session_resumed(self, _event: e.SessionResumed) -> None:
        self.end_all("the session was taken up", once=True)

    def _rules_installed(self, event: e.RulesInstalled) -> None:
        names = ("hazards", "confirmations", "states")
        new = {name: {**getattr(self.knowledge, name), **getattr(event.interlocks, name)} for name in names}
        self.knowledge = self.knowledge.model_copy(update=new)
        self.end_all("other rules were installed", once=True)

    def _fact_corrected(self, _event: e.FactCorrected) -> None:
        self.end_all("a fact was put right")

    def _finding_taken_back(self, _event: e.FindingTakenBack) -> None:
        self.end_all("a finding was taken back")

    def _fault_put_right(self, _event: e.FaultPutRight) -> None:
        self.end_all("a fault was put right")


def _within(at: Moment, now: Moment, target: VehicleState) -> bool:
    return at.boot == now.boot and 0 <= now.clock_ms - at.clock_ms < lasts_ms(target.lives.text)
