"""What could not be made, in words, and the choices that open the way again."""

from triage.knowledge.models import Knowledge
from triage.session.left_open import keeps_engine_off, not_made, not_tested
from triage.session.state import State

MAKE = "make:"
"""How the choice begins that makes a check after all; its id follows."""
MOST = 3
"""As many are offered; the others stand on the page."""


def left_lines(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """What was not made, why, and what it would open."""
    lines = []
    for check in not_made(knowledge, state)[:MOST]:
        reason = state.known[check].reason
        opens = "Made, it lets the engine run" if keeps_engine_off(knowledge, check) else "Made, it may still tell"
        lines.append(f"Not made: {knowledge.checks[check].name}{f' ({reason})' if reason else ''}. {opens}.")
    tests = ", ".join(knowledge.checks[one].name for one in not_tested(knowledge, state))
    if tests:
        lines.append(f'Not tested, the complaint was not there: {tests}. When it comes: "amend".')
    return tuple(lines)


def left_choices(knowledge: Knowledge, state: State) -> tuple[tuple[str, str], ...]:
    """One choice for each that can be made after all."""
    made = not_made(knowledge, state)[:MOST]
    return tuple((f"{MAKE}{check}", f"Make it now: {knowledge.checks[check].name}") for check in made)
