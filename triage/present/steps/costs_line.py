"""What a repair costs, in one line beside a conclusion."""

from triage.knowledge.models import Knowledge
from triage.present.steps.shares import CARRIED
from triage.session.state import State


def costs_line(knowledge: Knowledge, state: State) -> list[str]:
    """The recorded advice in one line beside a conclusion that is carried, where there are prices."""
    choice, stood_by = state.costs, state.concluded.causes if state.concluded else ()
    carried = max((one.probability for one in state.likely if one.cause in stood_by), default=0.0)
    if choice is None or not choice.currency or not choice.visits or carried < CARRIED:
        return []
    least = choice.visits[0]
    done = " + ".join(knowledge.remedies[one].name for one in least.remedies)
    return [f"Least expected cost: {done}. {money(least.now)} {choice.currency} now; the table: costs"]


def money(amount: float) -> str:
    """An amount with two places."""
    return f"{amount:.2f}"


def part_names(knowledge: Knowledge) -> dict[str, str]:
    """The parts of remedies with their names."""
    return {part.id: part.name for remedy in knowledge.remedies.values() for part in remedy.parts}
