"""Why the step on screen is asked: the reason of the place in the tree where the session stands, and what led there."""

from triage.knowledge.models import Check, Confirmation, Knowledge
from triage.present.steps.findings import say_finding
from triage.present.steps.making_safe import lines_of
from triage.present.steps.own_route import own_lines
from triage.present.steps.views import step_view
from triage.session.rounds import is_it_there
from triage.session.state import State
from triage.session.stepping import place_of

ASKED_FOR = "You asked for it."
LOOKED_AGAIN = "It is looked at again: the vehicle was driven, left or worked on since."
PUT_RIGHT = "It is made again: what it found was put right."
PROVES = "It is made after the repair, to prove it."
IN_THIS_RUN = "In each run I ask first whether the complaint is there: a test of what is not there says nothing."
GATE = "Such machines can start the engine or shock while hands are in the drive."


def why_page(knowledge: Knowledge, state: State) -> list[str]:
    """Why the step on screen is asked."""
    step = state.step
    things = things_on(knowledge, state)
    if things:
        return [line for thing in things for line in _guards(knowledge, thing)]
    check = knowledge.checks.get(step.check)
    if check:
        return [check.why, *reasons(knowledge, state, check), *_found_last(knowledge, state)]
    if step.kind == "gate":
        return [GATE]
    return list(step_view(knowledge, state).lines) or ["It is needed to go on."]


def reasons(knowledge: Knowledge, state: State, check: Check) -> list[str]:
    """Why a check is asked now: by whose wish, or the reason of its place in the tree."""
    if own_lines(state):
        return list(own_lines(state))
    if state.asked == check.id:
        return [ASKED_FOR]
    if state.step.proving:
        before = state.findings.get(check.id)
        return [PROVES, *([f"Before: {say_finding(check, before)}."] if before and before.outcomes else [])]
    if check.id in state.put_right:
        return [PUT_RIGHT]
    if check.id in state.look_again:
        return [LOOKED_AGAIN]
    if check.id == is_it_there(knowledge, state, check) or (check.id in state.known and state.inside):
        return [IN_THIS_RUN]
    return _of_tree(knowledge, state, check)


def _of_tree(knowledge: Knowledge, state: State, check: Check) -> list[str]:
    """The reason of the place in the tree; of a further line of a round, that of the round's place."""
    place = place_of(knowledge, state)
    here = place.node.check == check.id or state.step.round != ""
    return [place.node.because] if place.node.because and here else []


def _found_last(knowledge: Knowledge, state: State) -> list[str]:
    """What was found last on the way to this place in the tree."""
    path = place_of(knowledge, state).path if state.stage == "finding" and not state.asked else ()
    last = path[-1] if path else ""
    check = knowledge.checks.get(last)
    return [f"Last found: {check.name}: {say_finding(check, state.known[last])}."] if check else []


def things_on(knowledge: Knowledge, state: State) -> list[Confirmation]:
    """The lines of the card on screen."""
    step = state.step
    asked = lines_of(step) if step.kind in ("confirm", "why", "held") else ()
    return [knowledge.confirmations[one] for one in asked if one in knowledge.confirmations]


def _guards(knowledge: Knowledge, thing: Confirmation) -> list[str]:
    harms = (knowledge.hazards[hazard].harm for hazard in sorted(thing.hazards) if hazard in knowledge.hazards)
    return [f"{thing.ask} {thing.why}", f"What it guards against: {' '.join(harms)}"]
