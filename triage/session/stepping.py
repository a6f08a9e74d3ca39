"""What the session asks for next: the tree's step, with interlocks, gates, repair and proof laid around it."""

from collections.abc import Iterable
from dataclasses import replace

from triage.knowledge.gates import is_gate
from triage.knowledge.models import Check, Knowledge, Remedy, VehicleState
from triage.knowledge.rounds import TRACKING
from triage.knowledge.vehicle import FIRST_FACTS, LATER_FACTS, leaves_pump_out
from triage.knowledge.walk import TreePlace, fits, walk
from triage.record.steps import Step
from triage.session import interlocks
from triage.session.own_route import own_step
from triage.session.proving import Proof, gone_by_repeat, is_absent, proof_of
from triage.session.rounds import in_order, is_it_there, open_lines, tracking_due, tracking_failed
from triage.session.state import Finding, State
from triage.session.taking_off import belt_line, destroys_belt

PUT_TOGETHER = ("reconnected", "belt-on")
"""Groups whose yes says that hands have put something on again."""
CARD_LINES = 4
"""As many lines as a window of 80 by 24 shows at once."""
PROOF_ORDER = (interlocks.ANYWHERE, "isolated-belt-off", "belt-off", "isolated", "stopped", "running")
"""Proof goes from where the work ends to the running engine: belt off, belt on, running; never without the belt."""


def place_of(knowledge: Knowledge, state: State) -> TreePlace:
    """Where the findings lead in the session's tree."""
    findings = {check: finding.outcomes for check, finding in state.known.items()}
    if is_absent(knowledge, state):
        # A test of what is not there says nothing: the tree goes on as where it could not be made.
        findings = {**{check.id: () for check in knowledge.checks.values() if check.needs_complaint}, **findings}
    tree = knowledge.trees[state.symptom]
    if keeps_belt_on(knowledge, state):
        later = {check.id: () for check in knowledge.checks.values() if takes_more_than_a_look(knowledge, check)}
        place = walk(knowledge, tree, {**later, **findings}, state.vehicle)
        if place.node.check is not None or place.node.conclude:
            return place
    return walk(knowledge, tree, findings, state.vehicle)


def place_after(knowledge: Knowledge, state: State, check_id: str, outcome: str) -> TreePlace:
    """Where an outcome would lead that nobody has found yet."""
    found = Finding(check_id, (outcome,), state.last_ms, state.holder)
    return place_of(knowledge, replace(state, findings={**state.findings, check_id: found}))


def keeps_belt_on(knowledge: Knowledge, state: State) -> bool:
    """Whether every look with the belt on comes first: it is a stretch belt that nobody has taken off yet."""
    off = (check for check in state.known if takes_belt_off(knowledge, knowledge.checks[check]))
    return destroys_belt(knowledge, state) and not any(state.known[check].outcomes for check in off)


def takes_more_than_a_look(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check takes the belt off or the battery out, or uses something up: it does not come before the rest."""
    place = knowledge.states.get(check.state)
    apart = place is not None and place.battery == "isolated"
    return bool(check.consumes) or apart or takes_belt_off(knowledge, check)


def takes_belt_off(knowledge: Knowledge, check: Check) -> bool:
    """Whether a check is made with the belt off."""
    place = knowledge.states.get(check.state)
    return place is not None and place.belt == "removed"


def next_step(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    """The one thing to ask for now. While the engine runs it serves the running engine, or switches it off."""
    step = _before_all(knowledge, state) or _asked(knowledge, state, now_ms)
    if state.condition.engine == "running" and not _may_go_on(knowledge, state, step):
        return Step(kind="switch-off")
    return step


def _may_go_on(knowledge: Knowledge, state: State, step: Step) -> bool:
    """Whether a step may be on screen beside a running engine: nothing lapses into a question there."""
    if step.kind in ("closed", "paused", "run-over", "switch-off"):
        return True
    place = knowledge.states.get(step.state)
    if step.kind not in ("check", "round", "run") or place is None or place.engine != "running":
        return False
    return state.inside == place.id and interlocks.stands(knowledge, state, place)


def _asked(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    if state.unexplained:
        return Step(kind="why", confirmation=state.unexplained)
    if state.gate != "none":
        return Step(kind="gate")
    for fact in FIRST_FACTS:
        if fact not in state.facts:
            return Step(kind="fact", fact=fact)
    closing = interlocks.closing_finding(knowledge, state)
    if closing and interlocks.tells_of_fuel(knowledge, closing):
        # In fuel vapour nothing is started, tried or disconnected, and no hand goes in.
        stopped = knowledge.checks[closing.check].state
        return Step(kind="blocked", check=closing.check, state=stopped, proving=state.stage == "proving")
    if state.put_right:
        # What is looked at with the engine stopped comes first.
        again = min(state.put_right, key=lambda check: needs_running(knowledge, check))
        return check_step(knowledge, state, again, now_ms, proving=state.stage == "proving")
    if state.stage == "working":
        return _work_step(knowledge, state)
    if state.stage == "proving":
        return _proof_step(knowledge, state, now_ms)
    return _searched(knowledge, state, now_ms)


def _searched(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    """What was asked for; the round under way, whatever the tree makes of its lines meanwhile; then the route."""
    if state.asked and not is_made(state, state.asked) and fits(knowledge, state.asked, state.vehicle):
        return check_step(knowledge, state, state.asked, now_ms, proving=False)
    own = own_step(state)
    # What the vehicle has not got may be told only when the check is reached.
    if own and fits(knowledge, own.check, state.vehicle):
        return check_step(knowledge, state, own.check, now_ms, proving=False)
    under_way = _round_step(knowledge, state, state.round, now_ms)
    if under_way:
        return under_way
    node = place_of(knowledge, state).node
    if node.check is None or (state.concluded and state.concluded.own):
        return Step(kind="conclusion")
    offered = _round_step(knowledge, state, node.round or "", now_ms) if node.check not in state.left else None
    return offered or check_step(knowledge, state, node.check, now_ms, proving=False)


def is_made(state: State, check_id: str) -> bool:
    """Whether somebody made a check in this session; what was told of it does not count."""
    found = state.known.get(check_id)
    return found is not None and not found.told_by


def _round_step(knowledge: Knowledge, state: State, round_id: str, now_ms: int) -> Step | None:
    """The open lines of a round, or what stands before them; None where none is open. One alone is a check."""
    lines = open_lines(knowledge, state, round_id)
    if not lines:
        return None
    due = fact_due(knowledge, state, lines)
    if due:
        return Step(kind="fact", fact=due)
    step = _set_up_together(knowledge, state, check_step(knowledge, state, lines[0], now_ms, proving=False), lines)
    if step.kind != "check" or step.check != lines[0]:
        return step
    if not lines[1:]:
        return step.model_copy(update={"round": round_id})
    numbered = _numbered(knowledge, state, round_id, lines)
    return step.model_copy(update={"round": round_id, "kind": "round", "open": lines, "lines": numbered})


def _before_all(knowledge: Knowledge, state: State) -> Step | None:
    """What comes before every question: nobody is there, or an engine that has to be switched off."""
    if state.closed or state.paused:
        pending: Proof = "not-provable" if state.pending else ""
        return Step(kind="closed" if state.closed else "paused", proof=state.proof if state.closed else pending)
    if state.run == "overdue":
        ran = knowledge.checks.get(state.run_check)
        return Step(kind="run-over", state=ran.state if ran else state.inside)
    return None


def needs_running(knowledge: Knowledge, check_id: str) -> bool:
    """Whether a check is made with the engine running."""
    target = knowledge.states.get(knowledge.checks[check_id].state)
    return target is not None and target.engine == "running"


def check_step(knowledge: Knowledge, state: State, check_id: str, now_ms: int, *, proving: bool) -> Step:
    """A check, or what stands before it: a look to make again, a card, a refused line, a run to start."""
    check = knowledge.checks[check_id]
    due = fact_due(knowledge, state, (check_id,))
    if due:
        return Step(kind="fact", fact=due)
    attempt = len(state.first_readings.get(check_id, ())) + 1
    offered = Step(kind="check", check=check_id, state=check.state, attempt=attempt, proving=proving)
    if check.state == interlocks.ANYWHERE:
        return offered
    target = interlocks.place_for(knowledge, state, check)
    offered = offered.model_copy(update={"state": target.id})
    if target.engine == "running":
        before = _before_running(knowledge, state, check, offered, now_ms)
        if before:
            return before
    if state.run == "running":
        return offered.model_copy(update={"kind": "run", "until_ms": state.run_until_ms})
    entry = _before_check(knowledge, state, target, check, now_ms)
    if entry:
        return entry.model_copy(update={"check": check_id, "attempt": attempt, "proving": proving})
    if target.run_limit is not None:
        return offered.model_copy(update={"kind": "run-ready"})
    if target.engine == "running" and tracking_due(knowledge, state, check):
        return check_step(knowledge, state, TRACKING, now_ms, proving=proving)
    if state.condition.engine == "running" and state.inside == target.id:
        return _beside_engine(knowledge, state, check, offered)
    return offered


def fact_due(knowledge: Knowledge, state: State, checks: tuple[str, ...]) -> str:
    """The fact of the vehicle to ask before these checks: what one of them or its vehicle state hangs on; "" for none.

    Nothing is asked beside a running engine: what nobody told counts as not known there.
    """
    if state.condition.engine == "running":
        return ""
    made = [knowledge.checks[check] for check in checks]
    needed = (*(check.state for check in made), *(check.set_up.state for check in made if check.set_up))
    places = (knowledge.states[state_id] for state_id in needed if state_id in knowledge.states)
    return _untold(state, *(check.needs for check in made), *(place.asks for place in places))


def _untold(state: State, *wanted: Iterable[str]) -> str:
    """The first of the facts that matter and were not asked; "" where all were."""
    matter = {fact for facts in wanted for fact in facts}
    return next((fact for fact in LATER_FACTS if fact in matter and fact not in state.facts), "")


def _numbered(knowledge: Knowledge, state: State, round_id: str, lines: tuple[str, ...]) -> tuple[str, ...]:
    """Every line of a round that is open or was answered: each keeps its number while the round is made."""
    checks = knowledge.rounds[round_id].checks
    mine = tuple(one for one in checks if one in lines or (one in state.known and fits(knowledge, one, state.vehicle)))
    return in_order(knowledge, state, mine)


def _before_running(knowledge: Knowledge, state: State, check: Check, offered: Step, now_ms: int) -> Step | None:
    """What a running check waits for, engine off: its result, what forbids it, looks to make again, a belt not true."""
    if state.run == "result" and state.run_check == check.id:
        return offered.model_copy(update={"kind": "result"})
    closing = interlocks.closing_check(knowledge, state) or unseen(knowledge, state)
    if closing:
        return Step(kind="blocked", check=closing, state=offered.state, proving=offered.proving)
    looks = looks_due(knowledge, state)
    if looks and state.run != "running":
        look = min(looks, key=lambda one: bool(knowledge.checks[one].does))
        return check_step(knowledge, state, look, now_ms, proving=offered.proving)
    if tracking_due(knowledge, state, check) and tracking_failed(state):
        return offered.model_copy(update={"kind": "held", "open": (TRACKING,)})
    return None


def _beside_engine(knowledge: Knowledge, state: State, check: Check, offered: Step) -> Step:
    """A check while the engine runs: until when, and in each run first whether the complaint is there to be tested."""
    now = "" if offered.proving else is_it_there(knowledge, state, check)
    more = {"check": now, "attempt": 1} if now else {}
    return offered.model_copy(update={**more, "until_ms": interlocks.running_until_ms(knowledge, state)})


def _before_check(knowledge: Knowledge, state: State, target: VehicleState, check: Check, now_ms: int) -> Step | None:
    """What is asked before a check, the cheapest first: nothing is made safe for what cannot be done anyway."""
    in_hand = _in_hand(state, target, check)
    if in_hand:
        return in_hand
    alone = next((one.id for one in knowledge.confirmations.values() if one.group == "alone"), "")
    if state.alone and target.engine == "running" and not (check.from_seat and alone in target.confirmations):
        return Step(kind="held", state=target.id, confirmation=alone)
    if state.condition.engine == "running" and target.cold_after is not None:
        return Step(kind="switch-off")
    spent = target.runs is not None and state.runs >= target.runs
    cold = interlocks.is_cold(state, target, now_ms)
    if not (spent or cold or interlocks.NO_PUMP in state.denied) and leaves_pump_out(state.vehicle):
        return _held_or_asked(state, target, (interlocks.NO_PUMP,))
    if spent or not cold:
        return Step(kind="held", state=target.id)
    line = belt_line(knowledge, state, target)
    if line:
        return _held_or_asked(state, target, (line,))
    return _setting_up(knowledge, state, check) or _entry(knowledge, state, target, check)


def _in_hand(state: State, target: VehicleState, check: Check) -> Step | None:
    """What a check uses up must be there before anything is set up or made safe for it."""
    line = interlocks.IN_HAND + check.id
    return _held_or_asked(state, target, (line,)) if check.consumes and line not in state.standing else None


def _entry(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None) -> Step | None:
    asked = interlocks.lacking(knowledge, state, target, check)
    if interlocks.START_TRIED in asked and not interlocks.may_be_tried(knowledge, state):
        return Step(kind="held", state=target.id, confirmation=interlocks.START_TRIED)
    lines = interlocks.card(knowledge, state, target, check)
    # What is put on again by hand comes first: hands are in for it.
    together = tuple(one for one in lines if knowledge.confirmations[one].group in PUT_TOGETHER)
    lines = together or lines
    # A card that does not fit is split; what is counted are lines.
    return _held_or_asked(state, target, lines[:CARD_LINES]) if lines else None


def _held_or_asked(state: State, target: VehicleState, lines: tuple[str, ...]) -> Step:
    # What was refused is held until somebody goes back to it, whatever the card holds besides.
    if state.held and (state.held in lines or state.held in target.confirmations):
        return Step(kind="held", state=target.id, confirmation=state.held)
    return Step(kind="confirm", state=target.id, lines=lines)


def _setting_up(knowledge: Knowledge, state: State, check: Check) -> Step | None:
    """The way to what is fitted, wetted, marked or taken off by hand, and then that work itself."""
    if check.set_up is None or interlocks.is_set_up(knowledge, state, check):
        return None
    place = interlocks.place_like(knowledge, state, knowledge.states[check.set_up.state])
    return _entry(knowledge, state, place, None) or Step(kind="set-up", state=place.id)


def remedies_of(knowledge: Knowledge, state: State) -> tuple[Remedy, ...]:
    """The remedies taken on, in order."""
    return tuple(knowledge.remedies[remedy] for remedy in state.remedies)


def _work_step(knowledge: Knowledge, state: State) -> Step:
    parts = {done.part for done in state.parts_done}
    torques = {done.torque for done in state.torques_done}
    for remedy in remedies_of(knowledge, state):
        if remedy.which and remedy.id not in state.places:
            return Step(kind="which", remedy=remedy.id)
        part = next((part.id for part in remedy.parts if part.id not in parts), "")
        torque = next((torque.id for torque in remedy.torques if torque.id not in torques), "")
        if part or torque:
            place = interlocks.place_like(knowledge, state, knowledge.states[remedy.state])
            fact, line = _untold(state, place.asks), belt_line(knowledge, state, place)
            if fact or line:
                return Step(kind="fact", fact=fact) if fact else _held_or_asked(state, place, (line,))
            entry = _entry(knowledge, state, place, None)
            step = Step(kind="part" if part else "torque", part=part, torque="" if part else torque, state=place.id)
            return entry or step
    return Step(kind="prove")


def abnormal(knowledge: Knowledge, state: State, finding: Finding) -> bool:
    """Whether a finding speaks of a fault on this vehicle."""
    check = knowledge.checks[finding.check]
    told = [check.outcome(outcome) for outcome in finding.outcomes]
    return any(outcome and not outcome.says_nothing and outcome.id != check.normal(state.pulley) for outcome in told)


def unseen(knowledge: Knowledge, state: State) -> str:
    """The first look of the tree that could not be made and still is not: nobody knows that the engine may run."""
    mute = [check_id for check_id, finding in state.known.items() if not _says_something(knowledge, finding)]
    nodes = knowledge.trees[state.symptom].nodes.values()
    looks = (node.check for node in nodes if node.check in mute and is_look(knowledge, state, node.check))
    return next(looks, "")


def looks_made(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The looks that let an engine run and were made: what is driven, left or worked on is looked at again."""
    return tuple(check for check in state.known if is_look(knowledge, state, check))


def looks_due(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The looks made before the next start: too old, only told of, or never made though a repair is to be proved."""
    told = (check for check, found in state.known.items() if found.told_by and is_look(knowledge, state, check))
    # A conclusion may come before the tree has had every look that lets an engine run.
    nodes = knowledge.trees[state.symptom].nodes.values() if state.stage == "proving" else ()
    asked = (node.check for node in nodes if node.check and node.check not in state.known)
    never = (check for check in asked if is_look(knowledge, state, check))
    return tuple(
        one for one in dict.fromkeys((*state.look_again, *told, *never)) if fits(knowledge, one, state.vehicle)
    )


def is_look(knowledge: Knowledge, state: State, check_id: str) -> bool:
    """Whether it is a look at the stopped drive, belt on, that can forbid a running engine."""
    return is_gate(knowledge, knowledge.checks[check_id]) and fits(knowledge, check_id, state.vehicle)


def _says_something(knowledge: Knowledge, finding: Finding) -> bool:
    told = (knowledge.checks[finding.check].outcome(outcome) for outcome in finding.outcomes)
    return any(outcome and not outcome.says_nothing for outcome in told)


def to_prove(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The checks to make again after the repair, hands-in before running.

    A check that uses something up, or is made once, is repeated only where the remedy says so: its subject is a new
    part now.
    """
    named = [check for remedy in remedies_of(knowledge, state) for check in remedy.repeat]
    named.append(knowledge.trees[state.symptom].repeat)
    complaint = knowledge.trees[state.symptom].complaint
    if complaint and not gone_by_repeat(knowledge, state):
        named.insert(0, complaint.now)
    strange = [
        finding.check
        for finding in state.findings.values()
        if abnormal(knowledge, state, finding) and _repeatable(knowledge.checks[finding.check])
    ]
    wanted = dict.fromkeys((*named, *strange))
    able = [
        check
        for check in wanted
        if knowledge.checks[check].way != "ask"
        and not (complaint and knowledge.checks[check].needs_complaint)
        and knowledge.checks[check].state in PROOF_ORDER
        and fits(knowledge, check, state.vehicle)
    ]
    return tuple(sorted(able, key=lambda check: _proof_place(knowledge.checks[check])))


def _proof_place(check: Check) -> tuple[int, bool]:
    """What turns or stops the engine comes last in its vehicle state: nothing is asked again for the others."""
    return PROOF_ORDER.index(check.state), bool(check.does)


def _repeatable(check: Check) -> bool:
    return not (check.consumes or check.once)


def _proof_step(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    proof = proof_of(knowledge, state)
    if proof == "not-cured" and not interlocks.closing_check(knowledge, state):
        # A bad proof ends the proving: nothing more is set up or started for it.
        return Step(kind="prove", proof=proof)
    for check_id in to_prove(knowledge, state):
        if check_id not in state.after:
            step = check_step(knowledge, state, check_id, now_ms, proving=True)
            return _set_up_together(knowledge, state, step, to_prove(knowledge, state))
    return _leaving(knowledge, state) or Step(kind="prove", proof=proof)


def _set_up_together(knowledge: Knowledge, state: State, step: Step, checks: tuple[str, ...]) -> Step:
    """Before one start for several checks everything is fitted that any of those with the engine running needs."""
    place = knowledge.states.get(step.state)
    if step.kind != "confirm" or place is None or place.engine != "running" or state.condition.engine == "running":
        return step
    made = state.after if step.proving else state.known
    for check_id in checks:
        check = knowledge.checks[check_id]
        if check_id not in made and check.state == place.id and not (state.alone and not check.from_seat):
            set_up = _in_hand(state, place, check) or _setting_up(knowledge, state, check)
            if set_up:
                return set_up.model_copy(update={"check": check_id, "proving": step.proving})
    return step


def _leaving(knowledge: Knowledge, state: State) -> Step | None:
    """What is taken off before the vehicle leaves: asked where hands were in, by itself."""
    off = to_take_off(knowledge, state)
    return _held_or_asked(state, stands_in(knowledge, state), off) if off else None


def stands_in(knowledge: Knowledge, state: State) -> VehicleState:
    """The vehicle state that was entered last; the first there is, where something has ended that."""
    return knowledge.states.get(state.inside) or next(iter(knowledge.states.values()))


def to_take_off(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The lines of what is taken off before a vehicle leaves, where hands were in since."""
    leaving = (one.id for one in knowledge.confirmations.values() if one.group == "leaving")
    return tuple(one for one in leaving if one in state.due or one in state.denied)
