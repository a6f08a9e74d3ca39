"""What is odd about a session, in words."""

from triage.knowledge.models import Knowledge
from triage.session.oddities import Oddity, oddities
from triage.session.state import State

MOST = 5
"""As many stand on the screen; the page has them all."""


def odd_lines(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """All of it, a line each."""
    return tuple(f"Odd: {odd_words(knowledge, state, one)}" for one in oddities(knowledge, state))


def odd_on_screen(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """The weightiest of it."""
    lines = odd_lines(knowledge, state)
    more = (f"And {len(lines) - MOST} more: the page of the session names them.",) if len(lines) > MOST else ()
    return (*lines[:MOST], *more)


def odd_words(knowledge: Knowledge, state: State, odd: Oddity) -> str:
    """One oddity as a sentence."""
    checks = knowledge.checks
    names = {part.id: part.name for remedy in knowledge.remedies.values() for part in remedy.parts}
    names |= {torque.id: torque.what for remedy in knowledge.remedies.values() for torque in remedy.torques}
    if odd.kind == "against":
        return "the findings do not carry what was repaired."
    if odd.kind == "close":
        return f"{checks[odd.about].name} was too close to call."
    if odd.kind == "other-way":
        return f"{checks[odd.about].name} was measured one way before and another way now."
    if odd.kind == "part-left":
        return f"{names.get(odd.about, odd.about)} was left as it is."
    if odd.kind == "no-torque":
        done = next((one.text for one in state.torques_done if one.torque == odd.about), "")
        return f"{names.get(odd.about, odd.about)}: no torque ({done})."
    if odd.kind == "hasty":
        more = f" and {odd.number - 1} more" if odd.number > 1 else ""
        return f"{checks[odd.about].name}{more}: answered faster than hands can do it."
    return f"{odd.number} lines of the cards were answered faster than anybody reads."
