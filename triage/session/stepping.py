"""What the session asks for next: the tree's step, with interlocks, gates, repair and proof laid around it."""

from triage.knowledge.gates import is_gate
from triage.knowledge.models import Check, Knowledge, Remedy, VehicleState
from triage.knowledge.walk import TreePlace, fits, walk
from triage.record.steps import Step
from triage.session import interlocks
from triage.session.own_route import own_step
from triage.session.state import FACTS, Finding, State

PROOF_ORDER = (interlocks.ANYWHERE, "isolated", "isolated-belt-off", "belt-off", "stopped", "running")
"""Proof goes from hands in the bay to the running engine; never without the belt."""


def place_of(knowledge: Knowledge, state: State) -> TreePlace:
    """Where the findings lead in the session's tree."""
    findings = {check: finding.outcomes for check, finding in state.known.items()}
    return walk(knowledge, knowledge.trees[state.symptom], findings, state.pulley)


def next_step(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    """The one thing to ask for now."""
    first = _before_all(knowledge, state)
    if first:
        return first
    if state.gate != "none":
        return Step(kind="gate")
    for fact in FACTS:
        if fact not in state.facts:
            return Step(kind="fact", fact=fact)
    if state.put_right:
        # What is looked at with the engine stopped comes first.
        again = min(state.put_right, key=lambda check: _needs_running(knowledge, check))
        return check_step(knowledge, state, again, now_ms, proving=state.stage == "proving")
    if state.stage == "working":
        return _work_step(knowledge, state, now_ms)
    if state.stage == "proving":
        return _proof_step(knowledge, state, now_ms)
    own = own_step(state)
    check = own.check if own else place_of(knowledge, state).node.check
    if check is None or (state.concluded and state.concluded.own):
        return Step(kind="conclusion")
    return check_step(knowledge, state, check, now_ms, proving=False)


def _before_all(knowledge: Knowledge, state: State) -> Step | None:
    """What comes before every question: nobody is there, or an engine that has to be switched off."""
    if state.closed or state.paused:
        return Step(kind="closed" if state.closed else "paused")
    if state.run == "overdue":
        return Step(kind="run-over", state=knowledge.checks[state.run_check].state)
    return Step(kind="switch-off") if interlocks.must_be_switched_off(state) else None


def _needs_running(knowledge: Knowledge, check_id: str) -> bool:
    target = knowledge.states.get(knowledge.checks[check_id].state)
    return target is not None and target.engine == "running"


def check_step(knowledge: Knowledge, state: State, check_id: str, now_ms: int, *, proving: bool) -> Step:
    """A check, or what stands before it: a gate, a refused or lacking confirmation, a run to start."""
    check = knowledge.checks[check_id]
    attempt = 2 if check_id in state.first_readings else 1
    offered = Step(kind="check", check=check_id, state=check.state, attempt=attempt, proving=proving)
    if check.state == interlocks.ANYWHERE:
        return offered
    target = knowledge.states[check.state]
    if target.engine == "running":
        if state.run == "result" and state.run_check == check_id:
            return offered.model_copy(update={"kind": "result"})
        closing = interlocks.closing_check(knowledge, state) or unseen(knowledge, state)
        if closing:
            return Step(kind="blocked", check=closing, state=check.state, proving=proving)
    if state.run == "running":
        return offered.model_copy(update={"kind": "run", "until_ms": state.run_until_ms})
    entry = _switching_off(knowledge, state, target, now_ms)
    if not entry:
        spent = target.runs is not None and state.runs >= target.runs
        if spent or not interlocks.is_cold(state, target, now_ms):
            return offered.model_copy(update={"kind": "held"})
        entry = _setting_up(knowledge, state, check, now_ms) or _entry(knowledge, state, target, check, now_ms)
    if entry:
        return entry.model_copy(update={"check": check_id, "attempt": attempt, "proving": proving})
    if target.run_limit is not None:
        return offered.model_copy(update={"kind": "run-ready"})
    return offered


def _entry(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None, now_ms: int) -> Step | None:
    lacking = interlocks.missing(knowledge, state, target, check, now_ms)
    if not lacking:
        return None
    # A refusal may have ended what was confirmed before it: what was refused is held all the same.
    if state.held in (*target.confirmations, interlocks.IN_HAND + check.id if check else lacking):
        return Step(kind="held", state=target.id, confirmation=state.held)
    return Step(kind="confirm", state=target.id, confirmation=lacking)


def _setting_up(knowledge: Knowledge, state: State, check: Check, now_ms: int) -> Step | None:
    """The way to what is fitted, wetted, marked or taken off by hand, and then that work itself."""
    if check.set_up is None or interlocks.is_set_up(knowledge, state, check):
        return None
    place = knowledge.states[check.set_up.state]
    return _entry(knowledge, state, place, None, now_ms) or Step(kind="set-up", state=place.id)


def _switching_off(knowledge: Knowledge, state: State, target: VehicleState, now_ms: int) -> Step | None:
    """The way to a stopped engine, where the engine must be cold: only there does it begin to grow cold."""
    if target.cold_after is None or state.condition.engine == "stopped":
        return None
    for stopped in knowledge.states.values():
        same = (stopped.belt, stopped.battery) == (state.condition.belt, state.condition.battery)
        if stopped.engine == "stopped" and same:
            return _entry(knowledge, state, stopped, None, now_ms)
    return None


def remedies_of(knowledge: Knowledge, state: State) -> tuple[Remedy, ...]:
    """The remedies taken on, in order."""
    return tuple(knowledge.remedies[remedy] for remedy in state.remedies)


def _work_step(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    parts = {done.part for done in state.parts_done}
    torques = {done.torque for done in state.torques_done}
    for remedy in remedies_of(knowledge, state):
        part = next((part.id for part in remedy.parts if part.id not in parts), "")
        torque = next((torque.id for torque in remedy.torques if torque.id not in torques), "")
        if part or torque:
            entry = _entry(knowledge, state, knowledge.states[remedy.state], None, now_ms)
            step = Step(kind="part" if part else "torque", part=part, torque="" if part else torque, state=remedy.state)
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
    looks = (node.check for node in nodes if node.check in mute and _is_look(knowledge, state, node.check))
    return next(looks, "")


def _is_look(knowledge: Knowledge, state: State, check_id: str) -> bool:
    """Whether it is a look at the stopped drive, belt on, that can forbid a running engine."""
    return is_gate(knowledge, knowledge.checks[check_id]) and fits(knowledge, check_id, state.pulley)


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
        and knowledge.checks[check].state in PROOF_ORDER
        and fits(knowledge, check, state.pulley)
    ]
    return tuple(sorted(able, key=lambda check: PROOF_ORDER.index(knowledge.checks[check].state)))


def _repeatable(check: Check) -> bool:
    return not (check.consumes or check.once)


def _proof_step(knowledge: Knowledge, state: State, now_ms: int) -> Step:
    for check_id in to_prove(knowledge, state):
        if check_id not in state.after:
            return check_step(knowledge, state, check_id, now_ms, proving=True)
    return Step(kind="prove")
