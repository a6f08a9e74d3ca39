"""How likely something is, in words, and what that means for a conclusion.

Source: from-memory. The limits are judgement: they decide what is said, not what is done.
"""

from triage.knowledge.models import Knowledge
from triage.session.state import State

CARRIED = 0.5
"""Probability below which a conclusion is not carried by its findings."""
WORTH_A_LOOK = 0.2
"""Probability from which another cause is named beside a conclusion."""


def share(probability: float) -> str:
    """A probability as a person says it.

    >>> share(0.8127), share(0.0004), share(0.9999)
    ('81 %', 'under 1 %', 'over 99 %')
    """
    if probability < 0.01:
        return "under 1 %"
    if probability > 0.99:
        return "over 99 %"
    return f"{100 * probability:.0f} %"


def beside_conclusion(knowledge: Knowledge, state: State) -> list[str]:
    """What the recorded advice says beside a conclusion: whether it is carried, and what else to look at."""
    if state.concluded is None or not state.advice:
        return []
    stood_by = state.concluded.causes
    likely = {one.cause: one.probability for one in state.advice}
    carried = max((likely.get(cause, 0.0) for cause in stood_by), default=0.0)
    lines = []
    if stood_by and carried < CARRIED:
        top = state.advice[0]
        lines.append(
            f"The findings do not carry this: they make it {share(carried)} likely. "
            f"Likeliest by them: {knowledge.causes[top.cause].name}, {share(top.probability)}."
        )
    others = [
        f"{knowledge.causes[cause].name} ({share(probability)})"
        for cause, probability in likely.items()
        if cause not in stood_by and probability >= WORTH_A_LOOK
    ]
    if others:
        lines.append(f"Also likely enough to look at in the same work: {', '.join(others)}.")
    return lines
