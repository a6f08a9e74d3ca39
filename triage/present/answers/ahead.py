"""What lies ahead: what an answer would lead to, what comes next, and how long it still takes."""

from collections.abc import Sequence
from dataclasses import replace

from triage.app.advising.advice import outlooks_now
from triage.knowledge.models import Check, Knowledge
from triage.listening.items import Finding
from triage.present.shapes import ENDS
from triage.present.steps.shares import share
from triage.record.counsel import Outlook
from triage.session.remaining import remaining
from triage.session.state import State
from triage.session.stepping import place_after, to_prove

MOST = 3
NO_ANSWER = 'Which answer do you mean? Say it as you would find it, or see all of them with "tell".'


def what_if(knowledge: Knowledge, state: State, check: Check | None, supposed: Sequence[Finding]) -> list[str]:
    """What each answer that is only thought of would lead to, and make likely."""
    thought_of = [one for one in supposed if state.step.proving or one.check not in state.known][:MOST]
    if not thought_of and check is not None and len(check.outcomes) <= MOST:
        thought_of = [Finding(check.id, outcome.id) for outcome in check.outcomes]
    return [_told(knowledge, state, one) for one in thought_of] or [NO_ANSWER]


def _told(knowledge: Knowledge, state: State, finding: Finding) -> str:
    check = knowledge.checks[finding.check]
    outcome = check.outcome(finding.outcome)
    words = outcome.words if outcome else finding.outcome
    named = "" if check.id == state.step.check else f"{check.name}: "
    if outcome and outcome.closes_running:
        return f"{named}{words}: the engine stays off. {outcome.closes_running}"
    if state.step.proving or state.stage != "finding":
        proof = check.proof(finding.outcome, state.pulley)
        says = {"proves": "it proves the repair", "disproves": "it is not cured, and the search goes on"}
        return f"{named}{words}: {says.get(proof, 'it says nothing of the repair')}."
    goal = leads_to(knowledge, state, check.id, finding.outcome)
    return f"{named}{words}: {goal}.{_likelier(knowledge, state, finding)}"


def leads_to(knowledge: Knowledge, state: State, check_id: str, outcome: str) -> str:
    """Where an outcome leads in the tree."""
    node = place_after(knowledge, state, check_id, outcome).node
    if node.check:
        return f"then comes {knowledge.checks[node.check].name}"
    if node.conclude:
        return f"then I would conclude {' and '.join(knowledge.causes[cause].name for cause in node.conclude)}"
    return f"then it ends: {ENDS.get(node.end or '', 'no cause')}"


def _likelier(knowledge: Knowledge, state: State, finding: Finding) -> str:
    """What it would make likeliest; nothing where the findings say nothing of that."""
    for one in _outlooks(knowledge, state, finding.check):
        if one.outcome == finding.outcome and one.cause:
            name = knowledge.causes[one.cause].name
            return f" Likeliest then: {name}, {share(one.after)} (now {share(one.before)})"
    return ""


def _outlooks(knowledge: Knowledge, state: State, check: str) -> tuple[Outlook, ...]:
    if state.counsel and state.fresh and state.counsel.about == check:
        return state.counsel.outlooks
    return outlooks_now(knowledge, replace(state, step=state.step.model_copy(update={"check": check})))


def next_lines(knowledge: Knowledge, state: State) -> list[str]:
    """What comes behind the step on screen, by its answer."""
    if state.stage == "proving":
        left = [knowledge.checks[one].name for one in to_prove(knowledge, state) if one not in state.after]
        return [f"Still to prove: {', '.join(left)}." if left else "Everything is proved: the end is next."]
    check = knowledge.checks.get(state.step.check)
    if state.step.kind == "round":
        left = [knowledge.checks[one].name for one in state.step.open]
        return [f"The lines of this round that are open: {', '.join(left)}."]
    if check is None or state.stage != "finding":
        return ["The step on screen decides it."]
    ways: dict[str, list[str]] = {}
    for outcome in check.outcomes:
        goal = "the engine stays off" if outcome.closes_running else leads_to(knowledge, state, check.id, outcome.id)
        ways.setdefault(goal, []).append(outcome.words)
    if len(ways) == 1:
        return [f"Whatever you find, {next(iter(ways))}."]
    return [f"{' / '.join(words)}: {goal}." for goal, words in ways.items()]


def how_long(knowledge: Knowledge, state: State) -> list[str]:
    """How many checks are left and their minutes, as a range."""
    if state.stage == "proving":
        left = [knowledge.checks[one] for one in to_prove(knowledge, state) if one not in state.after]
        return [
            f"{_checks(len(left), len(left))} to prove it, {sum(one.minutes for one in left):.0f} min by themselves."
        ]
    left_over = remaining(knowledge, state)
    if state.stage != "finding" or not left_over.most:
        return ["No check is left before the conclusion."]
    checks = _checks(left_over.fewest, left_over.most)
    minutes = f"{left_over.least_min:.0f} to {left_over.most_min:.0f} min by themselves"
    return [f"{checks} up to a conclusion, {minutes}.", "Making safe, taking the belt off and the repair come on top."]


def _checks(fewest: int, most: int) -> str:
    if fewest == most:
        return f"{most} check{'' if most == 1 else 's'}"
    return f"{fewest} to {most} checks"
