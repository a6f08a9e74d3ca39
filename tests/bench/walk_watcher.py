"""The watcher of walk_commands.py: reads events alone and shares no code with what it watches.

What was said of each thing, and whether it still counts, is kept by `walk_ledger`. Here stands the rest that keeps an
engine off or hands out: findings that close running, looks that could not be made, set-ups, timed runs, an engine that
must be cold, what goes along from one state into the next, and what is used up.
"""

import sys
from collections import Counter
from dataclasses import dataclass, field

from tests.bench.walk_ledger import JUMP_MS, SECOND_MS, Ledger, Moment, lasts_ms
from triage.knowledge.models import Check, Knowledge
from triage.record import events as e
from triage.record.steps import Step

WATCHED = ("check", "run", "run-ready", "result", "set-up", "part", "torque")


@dataclass
class Watcher:
    """Keeps its own account from events, and complains where a step is offered that must not be.

    Args:
        knowledge: what the session uses.
    """

    knowledge: Knowledge
    ledger: Ledger = field(init=False)
    running_since: Moment | None = None
    result: bool = False
    runs: Counter[str] = field(default_factory=Counter)
    hot: Moment | None = None
    boot_began: Moment | None = None
    closing: set[str] = field(default_factory=set)
    put_right: set[str] = field(default_factory=set)
    blind: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    told: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    proving: bool = False
    looks: set[str] = field(default_factory=set)
    doubted: int = 0
    repairing: bool = False
    set_up: str = ""
    set_up_at: int = 0
    pulley: str = "unknown"
    step: Step | None = None

    def __post_init__(self) -> None:
        """Open the account of what is said."""
        self.ledger = Ledger(self.knowledge)

    def see(self, event: e.Event) -> None:
        """Take one event into account."""
        self._time(event)
        before = getattr(self, "_before_" + event.kind.replace("-", "_"), None)
        if before:
            before(event)
        self.ledger.see(event)
        self.knowledge = self.ledger.knowledge
        seen = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if seen:
            seen(event)

    def look(self, at: Moment | None = None) -> None:
        """Complain when what is on screen must not be there now, or when the last event happened."""
        step, now = self.step, at or self.ledger.now
        if step is None or now is None:
            return
        objection = self.ledger.objection(step, now)
        assert not objection, objection
        if step.kind not in WATCHED:
            return
        if step.kind == "result":
            assert self.result, "a result is asked for, but no run was ended"
            assert self.running_since is None
            return
        target = self.knowledge.states.get(step.state)
        if target is None:
            return
        self._look_at_carried(step.state)
        running = self.running_since is not None
        assert running == (step.kind == "run"), f"{step.kind} is offered, engine of the run: {running}"
        if self.running_since:
            since = self.running_since
            assert target.run_limit, "a run without a limit"
            assert since.boot == now.boot
            assert 0 <= now.clock_ms - since.clock_ms < lasts_ms(target.run_limit.text), "a run past its limit"
        if target.engine == "running":
            assert not self.closing - ({step.check} & self.put_right), f"the engine runs in spite of {self.closing}"
            unseen = self.blind[True] | (self.blind[False] - self.told[True])
            assert not unseen, f"the engine runs, and nobody could look: {unseen}"
            assert not target.run_limit or step.kind in ("run", "run-ready")
        check = self.knowledge.checks.get(step.check)
        if check and check.only_for and check.id not in self.put_right:
            assert self.pulley in check.only_for, f"{check.id} is offered for a {self.pulley} pulley"
        if step.kind in ("set-up", "part", "torque"):
            assert target.near == "hands-in", "hands go in while the engine runs"
        elif check and check.set_up:
            self._look_at_set_up(check)

    # --- time

    def _time(self, event: e.Event) -> None:
        """Complain about a clock that goes back, or a wall clock whose move nobody recorded."""
        now, moment = self.ledger.now, Moment(event.boot, event.clock_ms)
        if now is None or moment.boot != now.boot:
            self.boot_began = moment
        else:
            assert moment.clock_ms >= now.clock_ms, "the clock that only goes forward went back"
            shift_ms = self.ledger.shift_ms(event)
            recorded = isinstance(event, e.ClockShifted) and event.by_ms == shift_ms
            assert recorded or abs(shift_ms) <= SECOND_MS, f"the wall clock moved by {shift_ms} ms, and nothing says so"
        place = self.ledger.been[0]
        if self.ledger.engine_on and place.belt == "fitted":
            self.hot = moment

    def _is_cold(self, now: Moment, lasts: str) -> bool:
        if self.hot is None or self.boot_began is None:
            return True
        # How long a session lay on the disk is not known: after that the engine counts as warm from its first reading.
        since = self.hot if self.hot.boot == now.boot else self.boot_began
        return now.clock_ms - since.clock_ms >= lasts_ms(lasts)

    def _clock_shifted(self, event: e.ClockShifted) -> None:
        if abs(event.by_ms) > JUMP_MS:
            self.set_up = ""

    # --- things that were said

    def _look_at_carried(self, state: str) -> None:
        """Complain where something counts that was said before the last state was left and may not."""
        before = self.ledger.before(self.ledger.begun_at)
        assert before <= self.ledger.carried, f"{before} was confirmed before the last state was left"
        target = self.knowledge.states[state]
        assert not (before and target.engine == "running"), f"{before} was not asked before the engine started"
        for thing in before:
            assert self.knowledge.confirmations[thing].carries, f"{thing} may not be carried"

    def _before_things_carried(self, event: e.ThingsCarried) -> None:
        ledger = self.ledger
        assert ledger.entered, "something is carried out of a state that was not entered"
        assert ledger.standing != event.state
        assert not self.repairing, "something is carried through a repair"
        places = [self.knowledge.states[place] for place in (ledger.standing, event.state)]
        assert {place.engine for place in places} == {"stopped"}, "something is carried past the running engine"
        assert not ledger.engine_on, "something is carried past the running engine"
        lives_ms = lasts_ms(places[1].lives.text)
        for thing, since_ms in event.since.items():
            last = ledger.said[thing]
            assert thing in places[1].confirmations
            assert last.so, f"{thing} is carried, and was last said not to be so"
            assert thing not in ledger.ended, f"{thing} is carried, and was ended"
            assert (last.at.boot, last.at.clock_ms) == (event.boot, since_ms), f"{thing} is carried with another time"
            assert last.order > self.doubted, f"{thing} is carried from before a refusal"
            assert 0 <= event.clock_ms - since_ms < lives_ms / 2, f"{thing} is carried too old"

    def _thing_confirmed(self, event: e.ThingConfirmed) -> None:
        thing = self.knowledge.confirmations.get(event.confirmation)
        assert not thing or bool(event.name) == thing.names
        assert event.name != event.who, "who watches is at the key"
        self._begun(event.state)

    def _before_thing_refused(self, event: e.ThingRefused) -> None:
        ledger = self.ledger
        target = self.knowledge.states.get(ledger.standing if ledger.entered else "")
        listed = target is not None and event.confirmation in target.confirmations
        ends = listed or event.confirmation in ledger.counting() or (ledger.engine_on and ledger.standing)
        assert not ends, f"{event.confirmation} is refused, and nothing says what that ends"

    def _thing_refused(self, event: e.ThingRefused) -> None:
        self.doubted = self.ledger.order
        self._begun(event.state)

    def _begun(self, state: str) -> None:
        if self.set_up and state != self.knowledge.checks[self.set_up].state:
            self.set_up = ""

    def _before_state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states[event.state]
        timed_from = self.ledger.engine_on and target.run_limit is not None
        assert not timed_from, "a timed run is prepared while the engine runs"
        assert self.ledger.standing == event.state, f"{event.state} is entered without a confirmation"

    def _state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states[event.state]
        assert event.engine == ("stopped" if target.run_limit else target.engine)
        assert (event.belt, event.battery) == (target.belt, target.battery)
        entered = self.ledger.objection(Step(kind="part", state=event.state), Moment(event.boot, event.clock_ms))
        assert not entered, f"{event.state} is entered: {entered}"

    # --- what is set up

    def _look_at_set_up(self, check: Check) -> None:
        """Complain where a check is offered that nobody set up, or since whose set-up hands may have been in."""
        assert self.set_up, f"{check.id} is offered without its set-up"
        assert self.knowledge.checks[self.set_up].set_up == check.set_up, f"{check.id} was set up as {self.set_up}"
        before = self.ledger.before(self.set_up_at)
        assert not before, f"{check.id} is offered with confirmations of before its set-up: {before}"

    def _before_set_up_finished(self, event: e.SetUpFinished) -> None:
        wanted = self.knowledge.checks[event.check].set_up
        assert wanted is not None
        assert wanted.state == event.state, f"{event.check} is set up in {event.state}"
        stands = self.ledger.objection(Step(kind="set-up", state=event.state), Moment(event.boot, event.clock_ms))
        assert not stands, f"{event.check} is set up: {stands}"

    def _set_up_finished(self, event: e.SetUpFinished) -> None:
        self.set_up, self.set_up_at = event.check, self.ledger.order

    def _held_tried_again(self, _event: e.HeldTriedAgain) -> None:
        # Nothing is said between a refusal and this; a run that waits for a cold engine is held without any.
        self.set_up = ""

    def _interlock_lapsed(self, _event: e.InterlockLapsed) -> None:
        self.set_up = ""

    def _session_paused(self, _event: e.SessionPaused) -> None:
        self.set_up = ""

    def _session_handed_over(self, _event: e.SessionHandedOver) -> None:
        self.set_up = ""

    def _session_resumed(self, _event: e.SessionResumed) -> None:
        self.set_up = ""

    # --- timed runs

    def _before_run_started(self, event: e.RunStarted) -> None:
        target, now = self.knowledge.states[event.state], Moment(event.boot, event.clock_ms)
        stands = self.ledger.objection(Step(kind="run-ready", state=event.state), now)
        assert not stands, f"a run is started: {stands}"
        assert self.running_since is None
        self.runs[event.state] += 1
        assert self.runs[event.state] <= (target.runs or sys.maxsize)
        if target.cold_after:
            assert self._is_cold(now, target.cold_after.text), "a run with a hot engine"

    def _run_started(self, event: e.RunStarted) -> None:
        self.running_since, self.result = Moment(event.boot, event.clock_ms), False

    def _run_ended(self, event: e.RunEnded) -> None:
        self.running_since = None
        self.result = event.because == "switched-off"

    # --- findings, and the looks that could not be made

    def _session_started(self, event: e.SessionStarted) -> None:
        for node in self.knowledge.trees[event.symptom].nodes.values():
            check = self.knowledge.checks.get(node.check or "")
            target = self.knowledge.states.get(check.state) if check else None
            if check and target and check.way in ("look", "feel") and target.near == "hands-in":
                shuts = [outcome for outcome in check.outcomes if outcome.closes_running]
                self.looks |= {check.id} if shuts and target.belt == "fitted" else set()

    def _fact_told(self, event: e.FactTold) -> None:
        if event.fact == "pulley":
            self.pulley = str(event.value or "unknown")

    def _before_fact_corrected(self, event: e.FactCorrected) -> None:
        assert not self.ledger.counting(), f"{event.fact} is put right, and confirmations still stand"
        assert self.running_since is None, f"{event.fact} is put right in the middle of a run"

    def _fact_corrected(self, event: e.FactCorrected) -> None:
        if event.fact == "pulley":
            assert self.pulley == (event.before or "unknown"), "it says what was not told before"
            self.pulley = str(event.value or "unknown")

    def _remedy_begun(self, _event: e.RemedyBegun) -> None:
        self.repairing = True

    def _work_finished(self, _event: e.WorkFinished) -> None:
        self.proving, self.blind[True], self.told[True] = True, set(), set()

    def _not_cured(self, event: e.NotCured) -> None:
        self.blind[False] = self.blind[True] | (self.blind[False] - self.told[True] - set(event.stale))
        self.proving, self.blind[True], self.told[True] = False, set(), set()
        self.repairing = False

    def _before_finding_taken_back(self, event: e.FindingTakenBack) -> None:
        assert not self.ledger.counting(), f"{event.check} is taken back, and confirmations still stand"

    def _finding_taken_back(self, event: e.FindingTakenBack) -> None:
        self._forget(event.check)

    def _forget(self, check: str) -> None:
        self.blind[self.proving].discard(check)
        self.told[self.proving].discard(check)

    def _looked(self, check: str, *, told: bool) -> None:
        self._forget(check)
        if check in self.looks:
            (self.told if told else self.blind)[self.proving].add(check)

    def _check_answered(self, event: e.CheckAnswered) -> None:
        self._found(self.knowledge.checks[event.check], event.outcomes)

    def _reading_taken(self, event: e.ReadingTaken) -> None:
        if event.outcome:
            self._found(self.knowledge.checks[event.check], (event.outcome,))

    def _check_not_done(self, event: e.CheckNotDone) -> None:
        self.put_right.discard(event.check)
        self._looked(event.check, told=False)

    def _before_fault_put_right(self, event: e.FaultPutRight) -> None:
        assert not self.ledger.counting(), f"{event.check} is put right, and confirmations still stand"

    def _fault_put_right(self, event: e.FaultPutRight) -> None:
        self.doubted = self.ledger.order
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
