"""The watcher of walk_commands.py: reads events alone and shares no code with what it watches.

What was said of each thing, and whether it still counts, is kept by `walk_ledger`. Here stands the rest that keeps an
engine off or hands out: findings that close running, looks that could not be made or are older than a drive, set-ups,
timed runs, an engine that must be cold, who is at the key, what somebody who is alone may do, and what proves dead.
"""

import sys
from collections import Counter
from copy import deepcopy
from dataclasses import dataclass, field

from tests.bench.walk_ledger import JUMP_MS, SECOND_MS, Ledger, Moment, lasts_ms, things_of
from triage.knowledge.models import Check, Knowledge, VehicleState
from triage.record import events as e
from triage.record.steps import Step

IDLING = ("belt-tracking", "bearing-listen", "chirp-timing")
"""All of the shipped checks with a running belt that take neither load nor raised speed."""
IDLING_SMALL = ("listen", "clip-listen", "clip-compare", "clip-live", "idle-listen")
"""The same of the small world of the tests."""
TAKEN_BACK = ("put_right", "blind", "told", "proving", "found", "pulley", "facts", "by_picture", "heard_of")
"""What was found and put right; never what forbids running, what is to be looked at again, or what ran."""
NEVER_TAKEN_BACK = ("run-started", "run-ended", "engine-off", "thing-refused", "something-changed", "alone-said")
WATCHED = ("check", "round", "run", "run-ready", "result", "set-up", "part", "torque")


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
    fuel: set[str] = field(default_factory=set)
    put_right: set[str] = field(default_factory=set)
    blind: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    heard_of: set[str] = field(default_factory=set)
    told: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    proving: bool = False
    looks: set[str] = field(default_factory=set)
    found: dict[bool, set[str]] = field(default_factory=lambda: {False: set(), True: set()})
    old: set[str] = field(default_factory=set)
    set_up: set[str] = field(default_factory=set)
    named: str = ""
    pulley: str = "unknown"
    facts: dict[str, str | float | None] = field(default_factory=dict)
    by_picture: bool = False
    gone: bool = False
    been_off: bool = False
    step: Step | None = None
    seen_true: bool = False
    acts: list[tuple[str, str, dict[str, object]]] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Open the account of what is said."""
        self.ledger = Ledger(self.knowledge)

    def see(self, event: e.Event) -> None:
        """Take one event into account."""
        self._time(event)
        before = getattr(self, "_before_" + event.kind.replace("-", "_"), None)
        if before:
            before(event)
        # Whatever somebody may take back: what had been found, and where the repair stood.
        about = next((getattr(event, name) for name in ("check", "fact") if hasattr(event, name)), "")
        self.acts.append((event.kind, about, {name: deepcopy(getattr(self, name)) for name in TAKEN_BACK}))
        self.ledger.see(event)
        self.knowledge = self.ledger.knowledge
        seen = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if seen:
            seen(event)
        self.taken_back = isinstance(event, e.FindingTakenBack)
        self.seen_true = self.seen_true and self.ledger.engine_on and bool(self.ledger.inside)

    def _alarm_raised(self, _event: e.AlarmRaised) -> None:
        self._looks_are_old()

    def look(self, at: Moment | None = None) -> None:
        """Complain when what is on screen must not be there now, or when the last event happened."""
        step, now = self.step, at or self.ledger.now
        if step is None or now is None:
            return
        objection = self.ledger.objection(step, now)
        assert not objection, objection
        vapour = self.fuel - self.put_right
        assert not vapour or step.kind not in (*WATCHED, "confirm", "held"), f"{step.kind} is offered in fuel vapour"
        if step.kind not in WATCHED:
            return
        if step.kind == "result":
            assert self.result, "a result is asked for, but no run was ended"
            assert self.running_since is None
            return
        target = self.knowledge.states.get(step.state)
        if target is None:
            return
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
            fitting = {one for one in self.old | self._only_heard_of() if self._fits(one)}
            assert not fitting, f"the engine runs after a look that is older than a drive, a pause or work: {fitting}"
            assert not target.run_limit or step.kind in ("run", "run-ready")
        if step.kind in ("set-up", "part", "torque"):
            assert target.near == "hands-in", "hands go in while the engine runs"
        for line in step.open if step.kind == "round" else (step.check,):
            self._look_at_line(step, self.knowledge.checks.get(line), running=target.engine == "running")

    def _look_at_line(self, step: Step, check: Check | None, *, running: bool) -> None:
        """Complain where one check of a step must not be offered."""
        assert not (running and self.ledger.alone) or (check and check.from_seat), (
            f"{check} is offered to somebody alone"
        )
        if check is None:
            return
        if check.only_for and check.id not in self.put_right | self.old:
            assert self.pulley in check.only_for, f"{check.id} is offered for a {self.pulley} pulley"
        for fact, words in check.needs.items():
            told = self.facts.get(fact)
            makes_sense = told is None or set(str(told).split()) & set(words)
            assert makes_sense, f"{check.id} is offered although {fact} is {told}"
        if check.set_up and step.kind not in ("set-up", "part", "torque"):
            self._look_at_set_up(check)
        if step.kind == "check":
            self._look_at_load(check)

    def _look_at_load(self, check: Check) -> None:
        """Complain about a load or a raised speed in a run in which nobody saw the belt run true."""
        place = self.knowledge.states.get(check.state)
        belt_runs = place is not None and (place.engine, place.belt) == ("running", "fitted")
        if belt_runs and "belt-tracking" in self.knowledge.checks and check.id not in (*IDLING, *IDLING_SMALL):
            assert self.seen_true, f"{check.id} is made, and nobody saw the belt run true in that run"

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
        if self.ledger.engine_on and self.ledger.belt == "fitted":
            self.hot = moment

    def _is_cold(self, now: Moment, lasts: str) -> bool:
        if self.hot is None or self.boot_began is None:
            return True
        # How long a session lay on the disk is not known: after that the engine counts as warm from its first reading.
        since = self.hot if self.hot.boot == now.boot else self.boot_began
        return now.clock_ms - since.clock_ms >= lasts_ms(lasts)

    def _clock_shifted(self, event: e.ClockShifted) -> None:
        if abs(event.by_ms) > JUMP_MS:
            self.set_up = set()

    # --- things that were said

    def _may_come_off(self, target: VehicleState) -> str:
        """What is lacking for taking a belt off that may be destroyed by it; "" where nothing is."""
        off = self.ledger.belt == "removed" or (self.gone and not self.been_off)
        if "tightening" not in target.asks or off:
            return ""
        lines = self.ledger.counting()
        if self.facts.get("tightening") in ("arm", "strut", "screw", "no-stretch"):
            return "" if self.by_picture or "tightening-by-picture" in lines else "nobody has seen what keeps it tight"
        return "" if "new-belt-in-hand" in lines else "no new belt and tool in hand"

    def _fits(self, check: str) -> bool:
        only_for = self.knowledge.checks[check].only_for
        return not only_for or self.pulley in only_for

    def _before_thing_confirmed(self, event: e.ThingConfirmed) -> None:
        line, ledger = self.knowledge.confirmations.get(event.confirmation), self.ledger
        assert self.step is not None
        leaves = line is not None and line.group == "leaving"
        assert leaves or event.confirmation in self.step.lines, f"{event.confirmation} is not on the card"
        if line is None:
            return
        assert event.says == line.instead_of, f"{line.id} says {event.says} again"
        others = [self.knowledge.confirmations[one] for one in line.instead_of]
        again = {thing for one in others for thing in things_of(one)}
        if line.proof == "word":
            assert again <= ledger.stopped, f"{again - ledger.stopped} is said again, and more than a stop has ended it"
            assert event.name == self.named, f"{event.name} is said to be at the key, and {self.named} was named"
            assert len(event.proof) == 1, "no word was called back"
        assert again <= ledger.said.keys(), f"{again - ledger.said.keys()} is said again, and never was"
        assert not any(not ledger.said[one].so for one in again), "what was denied is said again with others"
        if line.proof == "dead":
            before, now = (float(text.removesuffix(" V")) for text in event.proof)
            assert before >= 6, "a first reading near zero proves nothing"
            assert now < 0.5, "it is not dead"
        if line.proof == "name":
            assert event.alone == ledger.alone
            assert event.name, "nobody is at the key"
            assert (event.name == event.who) == event.alone, "who watches is at the key"
            self.named = event.name
        tried = "start-tried" in things_of(line)
        looked = any(self.knowledge.checks[one].untouched for one in self.looked) or "start-tried" in ledger.said
        assert not tried or looked, "the start is tried before anybody has looked"
        assert not tried or not self.closing - self.put_right, "the start is tried in spite of what was found"

    def _before_session_closed(self, event: e.SessionClosed) -> None:
        lines = [one for one in self.knowledge.confirmations.values() if one.group == "leaving"]
        left = {thing for line in lines for thing in things_of(line)} & self.ledger.undone
        assert event.how == "turned-away" or not left, f"the vehicle leaves with {left} undone"

    def _before_thing_refused(self, event: e.ThingRefused) -> None:
        line = self.knowledge.confirmations.get(event.confirmation)
        lines = [one for one in self.knowledge.confirmations.values() if not one.instead_of]
        group = [one for one in lines if line and one.group == line.group]
        still = {thing for one in group for thing in things_of(one)} & set(self.ledger.counting())
        assert not still, f"{event.confirmation} is refused, and {still} of its group stands"

    def _before_session_paused(self, _event: e.SessionPaused) -> None:
        assert not self.ledger.counting(), "the vehicle is left, and things are left standing"

    _before_session_handed_over = _before_session_paused

    def _thing_refused(self, event: e.ThingRefused) -> None:
        line = self.knowledge.confirmations.get(event.confirmation)
        if line and line.group == "same-as-before":
            self._looks_are_old()

    def _before_state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states[event.state]
        unasked = [fact for fact in target.asks if fact not in self.facts]
        assert not unasked, f"{event.state} is entered, and nobody asked for {unasked}"
        lacking = self._may_come_off(target)
        assert not lacking, f"the belt comes off for {event.state}: {lacking}"
        self._put_on(event.belt)
        timed_from = self.ledger.engine_on and target.run_limit is not None
        assert not timed_from, "a timed run is prepared while the engine runs"
        assert not (self.ledger.engine_on and target.engine == "stopped"), "hands go in, and nobody switched off"

    def _before_vehicle_turned(self, event: e.VehicleTurned) -> None:
        self._put_on(event.belt)

    def _put_on(self, belt: str) -> None:
        if (self.ledger.belt, belt) == ("removed", "fitted"):
            self.ledger.said.pop("new-belt-in-hand", None)
        self.been_off = self.been_off or belt == "removed"

    def _state_entered(self, event: e.StateEntered) -> None:
        target = self.knowledge.states[event.state]
        assert event.engine == ("stopped" if target.run_limit else target.engine)
        assert (event.belt, event.battery) == (target.belt, target.battery)
        needed = self.ledger.needed(target, from_outside=target.near == "hands-in")
        lacking = set(needed) - set(self.ledger.counting())
        assert not lacking, f"{event.state} is entered without {lacking}"

    # --- looks that let an engine run, and what is older than they may be

    def _looks_are_old(self) -> None:
        self.old |= {
            one for one in self.looked if is_look(self.knowledge, self.knowledge.checks[one]) and self._fits(one)
        }

    def _something_changed(self, event: e.SomethingChanged) -> None:
        self.set_up = set()
        if event.what in ("driven", "belt-moved"):
            self._looks_are_old()

    # --- what is set up

    def _look_at_set_up(self, check: Check) -> None:
        """Complain where a check is offered that nobody set up, or since whose set-up hands may have been in."""
        done = [self.knowledge.checks[one] for one in self.set_up]
        assert (check.set_up, check.state) in [(one.set_up, one.state) for one in done], f"{check.id} is not set up"

    def _before_set_up_finished(self, event: e.SetUpFinished) -> None:
        wanted = self.knowledge.checks[event.check].set_up
        assert wanted is not None
        there, place = self.knowledge.states[wanted.state], self.knowledge.states[event.state]
        assert (there.engine, there.belt) == (place.engine, place.belt), f"{event.check} is set up in {event.state}"
        assert place.battery in (there.battery, "isolated"), f"{event.check} is set up in {event.state}"
        stands = self.ledger.objection(Step(kind="set-up", state=event.state), Moment(event.boot, event.clock_ms))
        assert not stands, f"{event.check} is set up: {stands}"

    def _set_up_finished(self, event: e.SetUpFinished) -> None:
        self.set_up.add(event.check)

    def _held_tried_again(self, _event: e.HeldTriedAgain) -> None:
        # Nothing is said between a refusal and this; a run that waits for a cold engine is held without any.
        self.set_up = set()

    def _things_ended(self, event: e.ThingsEnded) -> None:
        if event.because in ("clock-jumped", "no-answer"):
            self.set_up = set()

    def _session_paused(self, _event: e.SessionPaused) -> None:
        self.set_up = set()

    def _session_handed_over(self, _event: e.SessionHandedOver) -> None:
        self.set_up = set()

    def _session_resumed(self, _event: e.SessionResumed) -> None:
        self.set_up = set()
        self._looks_are_old()

    # --- timed runs

    def _before_run_started(self, event: e.RunStarted) -> None:
        target, now = self.knowledge.states[event.state], Moment(event.boot, event.clock_ms)
        stands = self.ledger.objection(Step(kind="run-ready", state=event.state), now)
        assert not stands, f"a run is started: {stands}"
        assert self.running_since is None
        self.runs[event.state] += 1
        assert self.runs[event.state] <= (target.runs or sys.maxsize)
        if target.cold_after:
            drives = str(self.facts.get("drives") or "water-pump").split()
            pumps = "water-pump" in drives or "pump-not-driven" not in self.ledger.counting()
            assert not pumps or self._is_cold(now, target.cold_after.text), "a run with a hot engine"

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
        self.facts[event.fact] = event.value
        if event.fact == "tightening":
            self.by_picture = self.step is not None and self.step.fact == "tightening"
        if event.fact == "pulley":
            self.pulley = str(event.value or "unknown")

    def _before_fact_corrected(self, event: e.FactCorrected) -> None:
        assert self.running_since is None, f"{event.fact} is put right in the middle of a run"

    def _fact_corrected(self, event: e.FactCorrected) -> None:
        self.facts[event.fact] = event.value
        self.by_picture = self.by_picture and event.fact != "tightening"
        if event.fact == "pulley":
            assert self.pulley == (event.before or "unknown"), "it says what was not told before"
            self.pulley = str(event.value or "unknown")

    def _work_finished(self, _event: e.WorkFinished) -> None:
        self._looks_are_old()
        self.proving, self.blind[True], self.told[True] = True, set(), set()

    def _not_cured(self, event: e.NotCured) -> None:
        self.blind[False] = self.blind[True] | (self.blind[False] - self.told[True] - set(event.stale))
        self.proving, self.blind[True], self.told[True] = False, set(), set()
        self.found = {False: (self.found[False] | self.found[True]) - set(event.stale), True: set()}

    def _act_undone(self, event: e.ActUndone) -> None:
        """Back to before the act; a line that was pressed is ended by an event of its own."""
        assert event.act not in NEVER_TAKEN_BACK, f"{event.act} is taken back"
        self.acts.pop()
        kind, about, before = self.acts.pop()
        while kind != event.act or (about and about not in event.about):
            kind, about, before = self.acts.pop()
        for name, value in before.items():
            setattr(self, name, value)
        if event.act == "set-up-finished":
            self.set_up -= set(event.about)

    def _finding_taken_back(self, event: e.FindingTakenBack) -> None:
        self.seen_true = self.seen_true and event.check != "belt-tracking"
        self._forget(event.check)

    def _forget(self, check: str) -> None:
        self.blind[self.proving].discard(check)
        self.told[self.proving].discard(check)
        self.found[self.proving].discard(check)
        self.heard_of.discard(check)

    @property
    def looked(self) -> set[str]:
        """Every check that has a finding now."""
        return self.found[False] | self.found[True]

    def _looked(self, check: str, *, told: bool) -> None:
        self._forget(check)
        self.found[self.proving].add(check)
        self.old.discard(check)
        if check in self.looks:
            (self.told if told else self.blind)[self.proving].add(check)

    def _before_check_answered(self, event: e.CheckAnswered) -> None:
        check = self.knowledge.checks[event.check]
        if self.step and self.step.kind == "round":
            assert event.check in self.step.open or self._corrects, f"{check.id} is no open line"
            if not self._corrects:
                self._look_at_load(check)
        if event.closed_with_round:
            assert self.step
            assert self.step.kind == "round", "lines are closed together, and there is no round"
            assert check.way in ("look", "listen", "feel"), f"{check.id} is closed with others"
            acts = (check.reading, check.set_up, check.does, check.consumes)
            assert not any(acts), f"{check.id} is a reading or a test, and is closed with others"
            lets_run = any(one.closes_running and one.id != "will-not-turn" for one in check.outcomes)
            assert not lets_run, f"{check.id} lets an engine run, and is closed with others"
            assert event.outcomes == (check.normal(self.pulley),), "something is found where nothing else was"

    def _only_heard_of(self) -> set[str]:
        return {one for one in self.heard_of if is_look(self.knowledge, self.knowledge.checks[one])}

    def _before_finding_told(self, event: e.FindingTold) -> None:
        assert not self.ledger.engine_on, "somebody tells of what was found before, beside a running engine"
        assert not self.proving, "somebody tells of what was found before, as proof"
        waits = self.put_right if self._corrects else self.put_right | self.old
        assert event.check not in waits, f"{event.check} waits to be looked at, and is told"

    def _finding_told(self, event: e.FindingTold) -> None:
        waits, shut, fuel = self.old & {event.check}, self.closing & {event.check}, self.fuel & {event.check}
        self._found(self.knowledge.checks[event.check], event.outcomes)
        # Nobody has seen it: what was closed stays closed.
        self.old, self.closing, self.fuel = self.old | waits, self.closing | shut, self.fuel | fuel
        self.heard_of.add(event.check)

    def _before_reading_taken(self, event: e.ReadingTaken) -> None:
        if self.step and self.step.kind == "round" and not self._corrects:
            assert event.check in self.step.open
            self._look_at_load(self.knowledge.checks[event.check])

    @property
    def _corrects(self) -> bool:
        """Whether the event is the other half of a correction."""
        return self.taken_back

    def _check_answered(self, event: e.CheckAnswered) -> None:
        outcomes = [one for one in self.knowledge.checks[event.check].outcomes if one.id in event.outcomes]
        self.gone = self.gone or any(one.belt_off for one in outcomes)
        self._found(self.knowledge.checks[event.check], event.outcomes)

    def _reading_taken(self, event: e.ReadingTaken) -> None:
        if event.outcome:
            self._found(self.knowledge.checks[event.check], (event.outcome,))

    def _check_not_done(self, event: e.CheckNotDone) -> None:
        self.set_up.discard(event.check)
        self.put_right.discard(event.check)
        self.seen_true = self.seen_true and event.check != "belt-tracking"
        self._looked(event.check, told=False)

    def _fault_put_right(self, event: e.FaultPutRight) -> None:
        self.put_right.add(event.check)
        self._forget(event.check)
        self._looks_are_old()

    def _found(self, check: Check, outcomes: tuple[str, ...]) -> None:
        told = [outcome for outcome in check.outcomes if outcome.id in outcomes and not outcome.says_nothing]
        self.put_right.discard(check.id)
        if check.id == "belt-tracking":
            self.seen_true = self.ledger.engine_on and "runs-true" in outcomes
        self._looked(check.id, told=bool(told))
        for kept in (self.closing, self.fuel):
            kept -= {check.id} if told else set()
        self.closing |= {check.id} if any(outcome.closes_running for outcome in told) else set()
        self.fuel |= {check.id} if any(outcome.fuel for outcome in told) else set()

    def _step_offered(self, event: e.StepOffered) -> None:
        self.step = event.step
        place = self.knowledge.states.get(event.step.state)
        if place and event.step.kind in ("check", "round", "part", "torque"):
            self.set_up = {one for one in self.set_up if self.knowledge.checks[one].state == place.id}


def is_look(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check is a look at the stopped drive, belt on, that can forbid a running engine."""
    place = knowledge.states.get(check.state)
    if place is None or check.way not in ("look", "feel"):
        return False
    shuts = any(outcome.closes_running for outcome in check.outcomes)
    return shuts and (place.engine, place.belt) == ("stopped", "fitted")
