"""The page that says which checks are worth their minutes, and whether one is."""

from triage.knowledge.models import Knowledge
from triage.present.steps.own_route import ENDED, OWN
from triage.present.steps.shares import TURNED_AWAY
from triage.present.steps.worth import CONTRADICTING, FIRST, weighed_words
from triage.record.counsel import CheckWorth
from triage.session.state import State

NOTHING_LEFT = "No check is left that may be made now."
BEHIND = f"None of them pays by itself. {FIRST}"
CLOSED = "The session is closed: no check is asked for any more."
OVER = "The search is over: what is left is work and proof."
HOW = (
    "Saved is what the best end is expected to cost less: the complaint gone instead of there. A check stands with "
    "those of its stand where they pay together. Named are only checks that may be made now: what keeps an engine off "
    "is never weighed."
)


def worth_page(knowledge: Knowledge, state: State) -> list[str]:
    """The checks that are worth most for their minutes: as last recorded."""
    if state.stage != "finding":
        return [TURNED_AWAY if state.closed == "turned-away" else CLOSED if state.closed else OVER]
    if state.counsel is None or not state.counsel.likely:
        return [CONTRADICTING if state.counsel else NOTHING_LEFT]
    return worth_lines(knowledge, state, state.counsel.checks, pays=bool(state.counsel.pays))


def worth_lines(knowledge: Knowledge, state: State, checks: tuple[CheckWorth, ...], *, pays: bool) -> list[str]:
    """The checks in order with figures, and what the figures rest on."""
    if not checks:
        return [FIRST if pays else NOTHING_LEFT]
    lines = [f"{number}. {weighed_words(knowledge, one)}" for number, one in enumerate(checks, 1)]
    if not any(one.pays for one in checks):
        lines.append(BEHIND if pays else "None of them is expected to save the minutes that it takes.")
    weights, source = state.weights, state.weights.source.replace("-", " ")
    losses = (
        f"A part changed for nothing counts {weights.for_nothing_min:g} min, a complaint that stays "
        f"{weights.left_in_min:g} min ({source}); turning the vehicle counts from where it stands."
    )
    ended = [f"{OWN}: {ENDED}"] if state.concluded and state.concluded.own else []
    return [*lines, *ended, losses, HOW]
