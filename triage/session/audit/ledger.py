"""The account that an audit keeps from events alone: what was said last of each thing, and where the vehicle stands."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property

from triage.knowledge.models import Check, Knowledge, Outcome, Remedy, VehicleState
from triage.knowledge.rounds import RUNS_TRUE, TRACKING, waits_for_tracking
from triage.record import events as e
from triage.record.steps import Step
from triage.session.audit.account import BY_PICTURE, NEW_BELT, NO_PUMP, Account
from triage.session.audit.acts import Kept, remember, restore
from triage.units import parse_quantity

GROUPED_RULES = 3
"""From these on confirmations stand until something ends their group; before, they lived for minutes."""
FIRST_RULES = 1
"""Rules of the first releases: a refusal did not end the live state, and there was one clock."""


LONG_JUMP_MS = 60_000
"""A wall clock that is set by more than this ends every confirmation."""
ENDING = (e.ClockShifted, e.RunEnded, e.InterlockLapsed, e.ThingsEnded)
"""What says that something has ended; it comes before anything else."""

UNMOVING = (
    *(e.NoteAdded, e.AdviceGiven, e.CostsWeighed, e.RateMatched, e.LayoutUsed, e.DriveCompared, e.RenewalTold),
    e.ClockShifted,
)
"""What changes nothing in what is asked next."""
ACTING = (
    *(e.ThingConfirmed, e.ThingRefused, e.RefusalExplained, e.HeldTriedAgain, e.SetUpFinished, e.RunStarted),
    *(e.CheckAnswered, e.ReadingTaken, e.CheckNotDone, e.FaultPutRight, e.EngineOff),
    *(e.RemedyBegun, e.PartRecorded, e.TorqueRecorded, e.NotCured),
)
"""What comes of somebody who acts at the vehicle."""


@cache
def lasts_ms(text: str) -> float:
    """A period of the knowledge [ms].

    Raises:
        QuantityRefused: the text is no period.
    """
    return parse_quantity(text, "time").value * 1000


@dataclass
class Place:
    """Engine, belt and battery."""

    engine: str = "stopped"
    belt: str = "fitted"
    battery: str = "connected"


@dataclass
class Ledger:
    """What the events so far say.

    Args:
        knowledge: what the session goes by.
        rules: version of its safety rules.
        said: of each thing, whether it was last said to be so.
        looked_up: the facts that were told where they were asked for.
        belt_off: whether the belt was found off the vehicle.
        been_off: whether the session has ever taken one off.
        live: the vehicle state whose things are being confirmed, or were when `entered`.
        since: what was confirmed for it, and when by the clock that counts.
        doubted: what was confirmed before the last refusal.
        ever: what was confirmed since the vehicle was last taken up.
        begun: states on whose way in the vehicle was since the last one was entered.
        echo: the vehicle state that has just ended by itself, which its lines then say.
        hot_ms: when the engine was last known to run with its belt.
        away: whether the session was taken up from disk, and nobody has said yet that the vehicle was left.
        step: what is asked; none once it was answered, until something else is asked.
        moved: whether anything has happened since that can change it.
        seen_true: whether the belt was seen to run true since the engine was last started.
        round_told: lines of the round on screen that were answered since it was asked.
        left: parts and torques of the repair that are not recorded yet.
        told: checks of which somebody told, and that nobody made.
        says: for findings before and after the repair, whether each told anything.
    """

    knowledge: Knowledge
    rules: int
    symptom: str = ""
    step: Step | None = None
    gate: str = ""
    facts: dict[str, str | float | None] = field(default_factory=dict)
    looked_up: frozenset[str] = frozenset()
    belt_off: bool = False
    been_off: bool = False
    paused: bool = False
    away: bool = False
    closed: bool = False
    stage: str = "finding"
    said: dict[str, bool] = field(default_factory=dict)
    live: str = ""
    since: dict[str, int] = field(default_factory=dict)
    entered: bool = False
    echo: str = ""
    doubted: set[str] = field(default_factory=set)
    ever: set[str] = field(default_factory=set)
    begun: list[str] = field(default_factory=list)
    place: Place = field(default_factory=Place)
    hot_ms: int | None = None
    run: str = ""
    run_check: str = ""
    until_ms: int = 0
    runs: int = 0
    set_up: str = ""
    closing: set[str] = field(default_factory=set)
    fuel: set[str] = field(default_factory=set)
    put_right: set[str] = field(default_factory=set)
    says: dict[str, dict[str, bool]] = field(default_factory=lambda: {"before": {}, "after": {}})
    causes: tuple[str, ...] | None = None
    left: set[str] = field(default_factory=set)
    remedies: list[Remedy] = field(default_factory=list)
    layout: bool = False
    moved: bool = False
    last: e.Event | None = None
    account: Account = field(init=False)
    ready: set[str] = field(default_factory=set)
    look_again: set[str] = field(default_factory=set)
    unexplained: str = ""
    seen_true: bool = False
    round_told: set[str] = field(default_factory=set)
    pending: tuple[str, ...] = ()
    told: set[str] = field(default_factory=set)
    acts: list[Kept] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Open the account of what stands."""
        self.account = Account(self.knowledge)

    @property
    def grouped(self) -> bool:
        """Whether confirmations stand until something ends their group."""
        return self.rules >= GROUPED_RULES

    def lacking(self, state: str, check: Check | None) -> list[str]:
        """What a vehicle state needs and does not stand."""
        place = self.knowledge.states[state]
        return [*self.account.lacking(place, check, belt=self.place.belt, battery=self.place.battery)]

    @property
    def running(self) -> bool:
        """Whether the engine counts as running."""
        return self.place.engine == "running"

    @property
    def keeps_its_pump(self) -> bool:
        """Whether it was told, and confirmed by itself, that this belt does not drive the coolant pump."""
        told = self.facts.get("drives")
        return NO_PUMP in self.account.standing and isinstance(told, str) and "water-pump" not in told.split()

    def destroys(self, place: VehicleState) -> str:
        """Why the belt may not come off for a vehicle state; "" where it may, or is off already."""
        off = self.place.belt == "removed" or (self.belt_off and not self.been_off)
        if "tightening" not in place.asks or place.belt != "removed" or off:
            return ""
        if self.facts.get("tightening") in ("arm", "strut", "screw", "no-stretch"):
            seen = "tightening" in self.looked_up or BY_PICTURE in self.account.standing
            return "" if seen else "nobody confirmed what keeps the belt tight"
        in_hand = NEW_BELT in self.account.standing
        return "" if in_hand else "taking off destroys this belt, and nobody said that a new one is in hand"

    def untracked(self, check: Check) -> bool:
        """Whether the belt has to be seen to run true before a check, and was not in this run."""
        return waits_for_tracking(self.knowledge, check) and not self.seen_true

    @property
    def found(self) -> dict[str, bool]:
        """The findings that count now, and whether each told anything."""
        return {**self.says["before"], **self.says["after"]}

    def wanted(self, state: str) -> Iterator[str]:
        """The things that must be confirmed before a vehicle state is entered."""
        been = [self.place, *(self.knowledge.states[begun] for begun in self.begun)]
        for name in self.knowledge.states[state].confirmations:
            thing = self.knowledge.confirmations[name]
            came = any(getattr(one, what) == was for one in been for what, was in thing.after.items())
            denied = self.rules > FIRST_RULES and self.said.get(name) is False
            if denied or ((came or not thing.after) and not (thing.once and name in self.ever)):
                yield name

    def blind(self) -> set[str]:
        """The looks of the tree that told nothing: nobody knows that the engine may run."""
        pulley = self.facts.get("pulley") or "unknown"
        mute = (check for check in self.looks if self.found.get(check.id) is False)
        return {check.id for check in mute if not check.only_for or pulley in check.only_for}

    @cached_property
    def looks(self) -> list[Check]:
        """The looks of the tree at the stopped drive that can forbid a running engine."""
        named = dict.fromkeys(node.check for node in self.knowledge.trees[self.symptom].nodes.values() if node.check)
        return [check for check in map(self.knowledge.checks.__getitem__, named) if self._forbids(check)]

    def _forbids(self, check: Check) -> bool:
        place = self.knowledge.states.get(check.state)
        shuts = any(outcome.closes_running for outcome in check.outcomes)
        stands = place is not None and (place.engine, place.belt) == ("stopped", "fitted")
        return shuts and stands and check.way in ("look", "feel")

    @property
    def looks_due(self) -> set[str]:
        """The looks that are made before the next start: too old, or only told of."""
        told = {one for one in self.told if self._forbids(self.knowledge.checks[one])}
        pulley = self.facts.get("pulley") or "unknown"
        due = (self.knowledge.checks[one] for one in self.look_again | told)
        return {one.id for one in due if not one.only_for or pulley in one.only_for}

    def take(self, event: e.Event) -> None:
        """Take one event into account."""
        if not isinstance(event, ENDING):
            self.echo = ""
        self.moved = self.moved or not isinstance(event, UNMOVING)
        if isinstance(event, ACTING) and not isinstance(self.last, e.FindingTakenBack):
            self.account.meet(event.who)
        # Until this event it may have run; the first rules counted from the last line of before.
        ran = self._turns and self.rules > FIRST_RULES
        remember(self, event)
        seen = getattr(self, "_" + event.kind.replace("-", "_"), None)
        if seen:
            seen(event)
        if ran or self._turns:
            self.hot_ms = max(event.clock_ms, self.hot_ms or event.clock_ms)
        self.last = event

    @property
    def _turns(self) -> bool:
        """Whether the engine counts as running with its belt on: it grows hot."""
        return (self.place.engine, self.place.belt) == ("running", "fitted")

    def _session_started(self, event: e.SessionStarted) -> None:
        self.symptom = event.symptom

    def _rules_installed(self, event: e.RulesInstalled) -> None:
        self.end()
        self.knowledge, self.rules = self.knowledge.under(event.interlocks), event.rules
        self.account.install(self.knowledge)
        self.__dict__.pop("looks", None)

    def _gate_answered(self, event: e.GateAnswered) -> None:
        self.gate = event.answer

    def _fact_told(self, event: e.FactTold | e.FactCorrected) -> None:
        self.facts[event.fact] = event.value
        asked = isinstance(event, e.FactTold) and self.step is not None and self.step.fact == event.fact
        self.looked_up = self.looked_up | {event.fact} if asked else self.looked_up - {event.fact}

    _fact_corrected = _fact_told

    def _thing_confirmed(self, event: e.ThingConfirmed) -> None:
        self.account.say(event.confirmation, event.says, event.name, event.who, event.clock_ms)
        self.unexplained = ""
        line = self.knowledge.confirmations.get(event.confirmation)
        if line and line.group in ("reconnected", "belt-on"):
            self.account.end("hands-in")
        if self.grouped:
            self.said.update(dict.fromkeys((event.confirmation, *event.lines), True))
            return
        if event.state != self.live:
            self._lapse()
            self.live = event.state
        self.since[event.confirmation] = event.clock_ms
        self.doubted.discard(event.confirmation)
        self.said[event.confirmation] = True
        self.ever.add(event.confirmation)
        self._begin(event.state)

    def _things_carried(self, event: e.ThingsCarried) -> None:
        self._lapse()
        self.live, self.since = event.state, dict(event.since)
        self._begin(event.state)

    def _thing_refused(self, event: e.ThingRefused) -> None:
        self.said[event.confirmation] = False
        line = self.knowledge.confirmations.get(event.confirmation)
        if line and line.group == "same-as-before":
            self.account.doubt()
            self._looks_are_old()
        for one in event.lines:
            self.account.deny(one)
        self.unexplained = "" if event.reason else event.confirmation
        if self.grouped:
            return
        self.doubted |= set(self.since)
        self.ever.discard(event.confirmation)
        if self.rules > FIRST_RULES and event.confirmation in self.since:
            self._lapse()
        self._begin(event.state)

    def _begin(self, state: str) -> None:
        if self.set_up and state != self.knowledge.checks[self.set_up].state:
            self.set_up = ""
        if state not in self.begun and not (self.entered and self.live == state):
            self.begun.append(state)

    def _refusal_explained(self, _event: e.RefusalExplained) -> None:
        self.unexplained = ""

    def _something_changed(self, event: e.SomethingChanged) -> None:
        self.ready = set()
        self.account.end(event.what)
        if event.what == "joined":
            self.account.join(event.who)
        if event.what in ("driven", "belt-moved"):
            self._looks_are_old()

    def _alone_said(self, event: e.AloneSaid) -> None:
        self.account.alone = event.alone
        self.account.end("left-seat" if event.alone else "joined")

    def _things_ended(self, event: e.ThingsEnded) -> None:
        if not self.grouped or event.because in ("clock-jumped", "no-answer"):
            self.end()
        self.account.end_lines(event.things, event.because, event.clock_ms)

    def _looks_ended(self, event: e.LooksEnded) -> None:
        self.look_again |= set(event.checks)

    def _looks_are_old(self) -> None:
        """The vehicle was driven, left or worked on: what lets an engine run is looked at again before it starts."""
        pulley = self.facts.get("pulley") or "unknown"
        found = (self.knowledge.checks[one] for one in self.found)
        self.look_again |= {
            one.id for one in found if self._forbids(one) and (not one.only_for or pulley in one.only_for)
        }

    def _vehicle_turned(self, event: e.VehicleTurned) -> None:
        if (self.place.battery, event.battery) == ("isolated", "connected"):
            self.account.end("lead-on")
        self._put_on(event.belt)
        self.place.belt, self.place.battery, self.account.inside = event.belt, event.battery, ""

    def _held_tried_again(self, _event: e.HeldTriedAgain) -> None:
        self.set_up, self.ready = "", set()

    def _state_entered(self, event: e.StateEntered) -> None:
        self.live, self.entered, self.begun = event.state, True, []
        self.seen_true = self.seen_true and self.place.engine == event.engine
        self._turn(event)
        self._put_on(event.belt)
        self.place = Place(event.engine, event.belt, event.battery)

    def _put_on(self, belt: str) -> None:
        """Whoever puts a belt on again has used up the new one."""
        self.been_off = self.been_off or belt == "removed"
        if (self.place.belt, belt) == ("removed", "fitted"):
            self.account.standing.discard(NEW_BELT)

    def _turn(self, event: e.StateEntered) -> None:
        before, account = self.place, self.account
        account.inside = event.state
        if event.engine == "running":
            account.running_ms = event.clock_ms
            account.end("engine-ran", "ignition-on")
        if event.belt != before.belt:
            account.end("belt-moved" if event.belt == "removed" else "hands-in")
        if event.battery != before.battery:
            account.end("lead-off" if event.battery == "isolated" else "lead-on")

    def _interlock_lapsed(self, event: e.InterlockLapsed) -> None:
        if event.because == "clock-jumped" and self.rules > FIRST_RULES:
            self.end()
        self._lapse()
        self.set_up = self.echo = ""

    def end(self) -> None:
        """Count nothing any more of what was confirmed; a run that is under way is to be switched off."""
        self.echo, self.seen_true = self.live, False
        self._lapse()
        self.account.end_all()
        self.set_up, self.ever, self.ready = "", set(), set()
        self.run = "overdue" if self.run == "running" else self.run

    def take_up(self, event: e.Event) -> None:
        """Under another start of the clock no age can be told: nothing stands, nobody is there, a hot engine is hot."""
        self.end()
        self.away = True
        self.rules = max(self.rules, FIRST_RULES + 1)
        self.hot_ms = None if self.hot_ms is None else event.clock_ms

    def _clock_shifted(self, event: e.ClockShifted) -> None:
        if abs(event.by_ms) > LONG_JUMP_MS:
            self.end()
            self.moved = True

    def _lapse(self) -> None:
        self.live, self.since, self.entered = "", {}, False

    def _set_up_finished(self, event: e.SetUpFinished) -> None:
        self.set_up = event.check
        self.ready.add(event.check)

    def _run_started(self, event: e.RunStarted) -> None:
        self.run, self.until_ms, self.runs = "running", event.until_ms, self.runs + 1
        self.run_check = self.step.check if self.step else ""
        self.place.engine, self.seen_true = "running", False
        self.account.end("engine-ran", "ignition-on")

    def _run_ended(self, event: e.RunEnded) -> None:
        off = event.because == "switched-off"
        self.run = "result" if off else "overdue"
        self.place.engine = "stopped" if off else self.place.engine
        if off:
            self._stood_still(event)

    def _engine_off(self, event: e.EngineOff) -> None:
        self.place.engine = "stopped"
        self._stood_still(event)

    def _stood_still(self, event: e.Event) -> None:
        self.account.end("stop")
        self.account.said_ms, self.seen_true = event.clock_ms, False

    def _alarm_raised(self, _event: e.AlarmRaised) -> None:
        self.account.end("stop")
        if self.grouped:
            self._looks_are_old()

    def _check_answered(self, event: e.CheckAnswered) -> None:
        self._did(event.check)
        self._find(event.check, event.outcomes, proving=event.proving)

    def _finding_told(self, event: e.FindingTold) -> None:
        told = self._says(event.check, event.outcomes)
        self.told.add(event.check)
        self.says["before"][event.check] = bool(told)
        self.causes = None
        if any(outcome.closes_running for outcome in told) or event.check not in self.closing:
            self._close(event.check, told)

    def _did(self, check: str, *, left_out: bool = False) -> None:
        does = self.knowledge.checks[check].does
        self.account.end(*(one for one in does if one == "stop" or not left_out))

    def _reading_taken(self, event: e.ReadingTaken) -> None:
        self._did(event.check)
        if event.outcome:
            self._find(event.check, (event.outcome,), proving=event.proving)

    def _check_not_done(self, event: e.CheckNotDone) -> None:
        self.set_up = ""
        self.ready.discard(event.check)
        self._did(event.check, left_out=True)
        self._find(event.check, (), proving=event.proving)

    def _find(self, check: str, outcomes: tuple[str, ...], *, proving: bool) -> None:
        told = self._says(check, outcomes)
        self.told.discard(check)
        self.round_told.add(check)
        if check == TRACKING:
            self.seen_true = self.running and RUNS_TRUE in outcomes
        self.says["after" if proving else "before"][check] = bool(told)
        self.put_right.discard(check)
        self.look_again.discard(check)
        self._find_off(check, outcomes)
        self.account.standing.discard(f"in-hand-{check}")
        self.run = "" if self.run == "result" and self.run_check == check else self.run
        self.causes = self.causes if proving else None
        self._close(check, told)

    def _find_off(self, check: str, outcomes: tuple[str, ...]) -> None:
        found = [one for one in self.knowledge.checks[check].outcomes if one.id in outcomes]
        self.belt_off = self.belt_off or any(one.belt_off for one in found)

    def _says(self, check: str, outcomes: tuple[str, ...]) -> list[Outcome]:
        known = self.knowledge.checks[check].outcomes
        return [outcome for outcome in known if outcome.id in outcomes and not outcome.says_nothing]

    def _close(self, check: str, told: list[Outcome]) -> None:
        if told:
            self.closing -= {check}
            self.fuel -= {check}
        self.closing |= {check} if any(outcome.closes_running for outcome in told) else set()
        self.fuel |= {check} if any(outcome.fuel for outcome in told) else set()

    def _finding_taken_back(self, event: e.FindingTakenBack) -> None:
        self.causes = None
        self.seen_true = self.seen_true and event.check != TRACKING
        self._forget(event.check)

    def _fault_put_right(self, event: e.FaultPutRight) -> None:
        self.put_right.add(event.check)
        self._forget(event.check)
        self.account.end("hands-in", "belt-moved")
        if self.grouped:
            self._looks_are_old()

    def _forget(self, check: str) -> None:
        self.says["after" if self.stage == "proving" else "before"].pop(check, None)
        self.told.discard(check)

    def _act_undone(self, event: e.ActUndone) -> None:
        restore(self, event)

    def _layout_used(self, _event: e.LayoutUsed) -> None:
        self.layout = True

    def _session_paused(self, _event: e.SessionPaused | e.SessionHandedOver) -> None:
        self.end()
        self.paused, self.away, self.step = True, False, Step(kind="paused")

    _session_handed_over = _session_paused

    def _session_resumed(self, _event: e.SessionResumed) -> None:
        self.end()
        if self.grouped:
            self._looks_are_old()
        for check in self.pending:
            self.says["after"].pop(check, None)
        self.paused = self.away = False
        self.pending = ()

    def _conclusion_reached(self, event: e.ConclusionReached | e.OwnRouteEnded) -> None:
        self.causes = event.causes

    _own_route_ended = _conclusion_reached

    def _remedy_begun(self, event: e.RemedyBegun) -> None:
        self.stage, self.run = "working", ""
        work = [self.knowledge.remedies[one] for one in event.remedies]
        torques = {torque.id for remedy in work for torque in remedy.torques}
        self.remedies = work
        self.left = torques | {part.id for remedy in work for part in remedy.parts}

    def _part_recorded(self, event: e.PartRecorded) -> None:
        self.left.discard(event.part)

    def _torque_recorded(self, event: e.TorqueRecorded) -> None:
        self.left.discard(event.torque)

    def _work_finished(self, _event: e.WorkFinished) -> None:
        self.account.end(*(one for remedy in self.remedies for one in remedy.does))
        if self.grouped:
            self._looks_are_old()
        self.stage, self.says["after"] = "proving", {}

    def _proof_left_open(self, event: e.ProofLeftOpen) -> None:
        self.pending = event.again

    def _not_cured(self, event: e.NotCured) -> None:
        kept = {check: told for check, told in self.found.items() if check not in event.stale}
        self.stage, self.says, self.causes = "finding", {"before": kept, "after": {}}, None

    def _session_closed(self, _event: e.SessionClosed) -> None:
        self.closed, self.step = True, Step(kind="closed")

    def _step_offered(self, event: e.StepOffered) -> None:
        self.step, self.moved, self.round_told = event.step, False, set()
        place = self.knowledge.states.get(event.step.state)
        if place is None or event.step.kind not in ("check", "round", "set-up", "part", "torque"):
            return
        if event.step.kind != "set-up":
            self.ready = {one for one in self.ready if self.knowledge.checks[one].state == place.id}
        check = self.knowledge.checks.get(event.step.check)
        untouched = event.step.kind in ("check", "round") and check is not None and check.untouched
        if place.near == "hands-in" and not untouched:
            self.account.end("hands-in")
