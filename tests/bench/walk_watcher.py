"""The watcher of walk_commands.py: reads events alone and shares no code with what it watches."""

import sys
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from triage.knowledge.models import Check, Knowledge, VehicleState
from triage.record import events as e
from triage.record.steps import Step
from triage.units import parse_quantity

SECOND_MS = 1000


def lasts_ms(text: str) -> float:
    """A period of the knowledge in milliseconds."""
    return parse_quantity(text, "time").value * SECOND_MS


@dataclass
class Watcher:
    """Keeps its own account from events, and complains where a step is offered that must not be.

    Args:
        knowledge: what the session uses.
    """

    knowledge: Knowledge
    state: str = ""
    confirmed: dict[str, int] = field(default_factory=dict)
    entered: bool = False
    vehicle: VehicleState | None = None
    begun: list[VehicleState] = field(default_factory=list)
    running: bool = False
    result: bool = False
    runs: Counter[str] = field(default_factory=Counter)
    hot_ms: int | None = None
    closing: set[str] = field(default_factory=set)
    put_right: set[str] = field(default_factory=set)
    blind: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    told: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    proving: bool = False
    looks: set[str] = field(default_factory=set)
    ever: set[str] = field(default_factory=set)
    carried: set[str] = field(default_factory=set)
    left_ms: int = 0
    doubted: set[str] = field(default_factory=set)
    repairing: bool = False
    set_up: str = ""
    set_up_ms: int = 0
    pulley: str = "unknown"
    step: Step | None = None

    def see(self, event: e.Event) -> None:
        """Take one event into account."""
        if self.vehicle and self.vehicle.engine == "running" and self.vehicle.belt == "fitted":
            self.hot_ms = max(event.at_ms, self.hot_ms or event.at_ms)
        seen = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if seen:
            seen(event)

    def look(self, now_ms: int) -> None:
        """Complain when what is on screen must not be there now."""
        step = self.step
        if step is None or step.kind not in ("check", "run", "run-ready", "result", "set-up", "part", "torque"):
            return
        target = self.knowledge.states.get(step.state)
        if step.kind == "result":
            assert self.result, "a result is asked for, but no run was ended"
            assert not self.running
            return
        if target is None:
            return
        assert self.entered, f"{step.kind} is offered outside of {target.id}"
        assert self.state == target.id, f"{step.kind} is offered in {self.state}, not in {target.id}"
        lives_ms = lasts_ms(target.lives.text)
        old = [thing for thing, at_ms in self.confirmed.items() if not 0 <= now_ms - at_ms < lives_ms]
        assert not old, f"{step.kind} is offered with confirmations that have aged: {old}"
        self._look_at_carried(target)
        assert self.running == (step.kind == "run"), f"{step.kind} is offered, engine of the run: {self.running}"
        if target.engine == "running":
            assert not self.closing - ({step.check} & self.put_right), f"the engine runs in spite of {self.closing}"
            unseen = self.blind[True] | (self.blind[False] - self.told[True])
            assert not unseen, f"the engine runs, and nobody could look: {unseen}"
            assert not target.run_limit or step.kind in ("run", "run-ready")
        check = self.knowledge.checks.get(step.check)
        if check and check.only_for and check.id not in self.put_right:
            assert self.pulley in check.only_for, f"{check.id} is offered for a {self.pulley} pulley"
        if step.kind == "set-up":
            assert target.near == "hands-in", "hands go in while the engine runs"
        elif check and check.set_up and step.kind in ("check", "run-ready", "run"):
            self._look_at_set_up(check)
        if check and check.consumes:
            assert f"in-hand-{check.id}" in self.confirmed, "something is used up that is not in hand"

    def _look_at_carried(self, target: VehicleState) -> None:
        """Complain where something counts that was confirmed before the last state was left and may not."""
        before = {thing for thing, at_ms in self.confirmed.items() if at_ms < self.left_ms}
        assert before <= self.carried, f"{before - self.carried} was confirmed before the last state was left"
        assert not (before and target.engine == "running"), f"{before} was not asked before the engine started"
        for thing in before:
            assert self.knowledge.confirmations[thing].carries, f"{thing} may not be carried"

    def _things_carried(self, event: e.ThingsCarried) -> None:
        assert self.entered, "something is carried out of a state that was not entered"
        assert self.state != event.state
        assert not self.repairing, "something is carried through a repair"
        places = [self.knowledge.states[place] for place in (self.state, event.state)]
        assert {place.engine for place in places} == {"stopped"}, "something is carried past the running engine"
        lives_ms = lasts_ms(places[1].lives.text)
        for thing, since_ms in event.since.items():
            assert thing in places[1].confirmations
            assert since_ms == self.confirmed[thing], f"{thing} is carried with another time"
            assert thing not in self.doubted, f"{thing} is carried from before a refusal"
            assert 0 <= event.at_ms - since_ms < lives_ms / 2, f"{thing} is carried too old"
        self._lapse()
        self.state, self.confirmed, self.carried = event.state, dict(event.since), set(event.since)
        self.left_ms = event.at_ms

    def _fact_told(self, event: e.FactTold) -> None:
        if event.fact == "pulley":
            self.pulley = str(event.value or "unknown")

    def _fact_corrected(self, event: e.FactCorrected) -> None:
        assert not self.confirmed, f"{event.fact} is put right, and confirmations still stand"
        assert not self.running, f"{event.fact} is put right in the middle of a run"
        if event.fact == "pulley":
            assert self.pulley == (event.before or "unknown"), "it says what was not told before"
            self.pulley = str(event.value or "unknown")

    def _remedy_begun(self, _event: e.RemedyBegun) -> None:
        self.repairing = True

    def _look_at_set_up(self, check: Check) -> None:
        """Complain where a check is offered that nobody set up, or since whose set-up hands may have been in."""
        assert self.set_up, f"{check.id} is offered without its set-up"
        assert self.knowledge.checks[self.set_up].set_up == check.set_up, f"{check.id} was set up as {self.set_up}"
        before = [thing for thing, at_ms in self.confirmed.items() if at_ms < self.set_up_ms]
        assert not before, f"{check.id} is offered with confirmations of before its set-up: {before}"

    def _set_up_finished(self, event: e.SetUpFinished) -> None:
        wanted = self.knowledge.checks[event.check].set_up
        assert wanted is not None
        assert self.entered
        assert self.state == wanted.state == event.state, f"{event.check} is set up in {self.state}"
        lives_ms = lasts_ms(self.knowledge.states[event.state].lives.text)
        assert all(0 <= event.at_ms - at_ms < lives_ms for at_ms in self.confirmed.values())
        self.set_up, self.set_up_ms = event.check, event.at_ms

    def _held_tried_again(self, _event: e.HeldTriedAgain) -> None:
        self.set_up = ""
        self.doubted |= set(self.confirmed)

    def _session_started(self, event: e.SessionStarted) -> None:
        for node in self.knowledge.trees[event.symptom].nodes.values():
            check = self.knowledge.checks.get(node.check or "")
            target = self.knowledge.states.get(check.state) if check else None
            if check and target and check.way in ("look", "feel") and target.near == "hands-in":
                shuts = [outcome for outcome in check.outcomes if outcome.closes_running]
                self.looks |= {check.id} if shuts and target.belt == "fitted" else set()

    def _work_finished(self, _event: e.WorkFinished) -> None:
        self.proving, self.blind[True], self.told[True] = True, set(), set()

    def _not_cured(self, event: e.NotCured) -> None:
        self.blind[False] = self.blind[True] | (self.blind[False] - self.told[True] - set(event.stale))
        self.proving, self.blind[True], self.told[True] = False, set(), set()
        self.repairing = False

    def _finding_taken_back(self, event: e.FindingTakenBack) -> None:
        self._forget(event.check)

    def _forget(self, check: str) -> None:
        self.blind[self.proving].discard(check)
        self.told[self.proving].discard(check)

    def _looked(self, check: str, *, told: bool) -> None:
        self._forget(check)
        if check in self.looks:
            (self.told if told else self.blind)[self.proving].add(check)

    def _thing_confirmed(self, event: e.ThingConfirmed) -> None:
        if event.state != self.state:
            self._lapse()
            self.left_ms = event.at_ms
        self.state = event.state
        self.confirmed[event.confirmation] = event.at_ms
        self.doubted.discard(event.confirmation)
        self.ever.add(event.confirmation)
        thing = self.knowledge.confirmations.get(event.confirmation)
        assert not thing or bool(event.name) == thing.names
        assert event.name != event.who, "who watches is at the key"
        self._begin(event.state)

    def _thing_refused(self, event: e.ThingRefused) -> None:
        assert not self.carried, f"{self.carried} still counts after a refusal"
        self.doubted |= set(self.confirmed)
        self._begin(event.state)

    def _begin(self, state: str) -> None:
        if self.set_up and state != self.knowledge.checks[self.set_up].state:
            self.set_up = ""
        if not self.entered:
            self.begun.append(self.knowledge.states[state])

    def _state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states[event.state]
        assert event.state == self.state, f"{event.state} is entered without a confirmation"
        lives_ms = lasts_ms(target.lives.text)
        for needed in target.confirmations:
            thing = self.knowledge.confirmations[needed]
            if self._counts(thing.after, target) and not (thing.once and needed in self.ever):
                assert needed in self.confirmed, f"{target.id} is entered without {needed}"
                assert 0 <= event.at_ms - self.confirmed[needed] < lives_ms
        self.entered, self.vehicle, self.begun = True, target, []

    def _counts(self, after: dict[Any, str], target: VehicleState) -> bool:
        # The engine of a run that is over is off, whatever the state was called.
        been = [place for place in (self.vehicle, *self.begun) if place and place.id != target.id]
        return not after or any(getattr(place, what) == was for place in been for what, was in after.items())

    def _interlock_lapsed(self, _event: e.InterlockLapsed) -> None:
        self._lapse()
        self.set_up = ""

    def _lapse(self) -> None:
        self.state, self.confirmed, self.entered, self.carried = "", {}, False, set()

    def _session_paused(self, _event: e.SessionPaused) -> None:
        self.set_up, self.ever = "", set()

    def _session_handed_over(self, _event: e.SessionHandedOver) -> None:
        self.set_up, self.ever = "", set()

    def _run_started(self, event: e.RunStarted) -> None:
        target = self.knowledge.states[event.state]
        assert self.entered
        assert self.state == event.state
        assert not self.running
        self.running = True
        self.result = False
        self.runs[event.state] += 1
        assert self.runs[event.state] <= (target.runs or sys.maxsize)
        if target.cold_after and self.hot_ms is not None:
            assert event.at_ms - self.hot_ms >= lasts_ms(target.cold_after.text), "a run with a hot engine"

    def _run_ended(self, event: e.RunEnded) -> None:
        self.running = False
        self.result = event.because == "switched-off"

    def _check_answered(self, event: e.CheckAnswered) -> None:
        self._found(self.knowledge.checks[event.check], event.outcomes)

    def _reading_taken(self, event: e.ReadingTaken) -> None:
        if event.outcome:
            self._found(self.knowledge.checks[event.check], (event.outcome,))

    def _check_not_done(self, event: e.CheckNotDone) -> None:
        self.put_right.discard(event.check)
        self._looked(event.check, told=False)

    def _fault_put_right(self, event: e.FaultPutRight) -> None:
        self.doubted |= set(self.confirmed)
        self.put_right.add(event.check)
        self._forget(event.check)

    def _found(self, check: Check, outcomes: tuple[str, ...]) -> None:
        told = [outcome for outcome in check.outcomes if outcome.id in outcomes and not outcome.says_nothing]
        self.put_right.discard(check.id)
        self._looked(check.id, told=bool(told))
        if any(outcome.closes_running for outcome in told):
            self.closing.add(check.id)
        elif told:
            self.closing.discard(check.id)

    def _step_offered(self, event: e.StepOffered) -> None:
        self.step = event.step
