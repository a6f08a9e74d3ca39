"""How likely something is, in words, and what that means for a conclusion.

Source: from-memory. The limits are judgement: they decide what is said, not what is done.
"""

from triage.knowledge.models import Knowledge
from triage.session.state import State

CARRIED = 0.5
"""Probability below which a conclusion of an older trace, that does not say so itself, is not carried."""
AT_ODDS = (
    "The findings contradict each other: no cause can have made them all. Read them with path and amend one before "
    "anything is renewed."
)
HIGHEST = 0.99
"""The highest figure that is told. Source: docs/made/simulation.md: of causes told with more, at least that share made
the complaint of vehicles that are made with every strength and base rate off by 30 % in odds."""
TURNED_AWAY = "The session was turned away at its first question: nothing was looked at, so nothing is weighed."
WORTH_A_LOOK = 0.2
"""Probability from which another cause is named beside a conclusion; a judgement, from memory."""


def share(probability: float) -> str:
    """A probability as a person says it.

    >>> share(0.8127), share(0.0004), share(0.9999)
    ('81 %', 'under 1 %', 'over 99 %')
    """
    if probability < 0.01:
        return "under 1 %"
    if probability > HIGHEST:
        return f"over {100 * HIGHEST:.0f} %"
    return f"{100 * probability:.0f} %"


def beside_conclusion(knowledge: Knowledge, state: State) -> list[str]:
    """What the recorded advice says beside a conclusion: whether it is carried, and what else to look at."""
    if state.concluded and state.counsel and state.counsel.stands == "at-odds":
        return [AT_ODDS]
    if state.concluded is None or not state.likely:
        return []
    stood_by = state.concluded.causes
    likely = {one.cause: one.probability for one in state.likely}
    lines = _not_carried(knowledge, state, likely)
    there = {one.cause: one.probability if one.present is None else one.present for one in state.likely}
    others = [
        f"{knowledge.causes[cause].name} ({share(probability)})"
        for cause, probability in there.items()
        if cause not in stood_by and probability >= WORTH_A_LOOK
    ]
    if others:
        lines.append(f"Also likely enough to look at in the same work: {', '.join(others)}.")
    return lines


def _not_carried(knowledge: Knowledge, state: State, likely: dict[str, float]) -> list[str]:
    stood_by = state.concluded.causes if state.concluded else ()
    if not stood_by:
        return []
    best = max(stood_by, key=lambda cause: likely.get(cause, 0.0))
    carried, stands = likely.get(best, 0.0), state.counsel.stands if state.counsel else ""
    if stands == "carried" or (not stands and carried >= CARRIED):
        return []
    top = state.likely[0]
    by_them = f"{knowledge.causes[top.cause].name}, {share(top.probability)}"
    there = next((one.present for one in state.likely if one.cause == best), None)
    if there is not None and there >= CARRIED:
        only = f"the findings make it only {share(carried)} likely to have made the complaint"
        return [f"It is likely there ({share(there)}) and is put right in any case, but {only}. Likeliest: {by_them}."]
    if stands == "contradicted":
        against = f"The findings speak against this: they make it {share(carried)} likely, and clearly likelier"
        return [f"{against}: {by_them}. Look again before anything is renewed: path, amend."]
    pays = f"; putting it right pays from {share(state.weights.pays_from(best))}" if stands else ""
    return [
        f"The findings do not carry this: they make it {share(carried)} likely{pays}. Likeliest by them: {by_them}."
    ]
