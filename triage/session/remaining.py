"""How much of a search is left: the fewest and the most checks that the tree may still ask, and their own minutes."""

from dataclasses import dataclass
from functools import cache

from triage.knowledge.models import Knowledge, Node
from triage.knowledge.walk import fits, passed
from triage.session.state import State
from triage.session.stepping import place_of


@dataclass(frozen=True)
class Remaining:
    """What is left up to a conclusion, without what is made safe, the way there and the repair.

    Args:
        fewest: checks on the shortest way.
        most: checks on the longest.
        least_min: minutes of the quickest way.
        most_min: minutes of the slowest.
    """

    fewest: int = 0
    most: int = 0
    least_min: float = 0.0
    most_min: float = 0.0


def remaining(knowledge: Knowledge, state: State) -> Remaining:
    """What is left from where the session stands, whatever is found on the way."""
    nodes, known = knowledge.trees[state.symptom].nodes, {check: one.outcomes for check, one in state.known.items()}

    @cache
    def after(node_id: str) -> Remaining:
        node = nodes[node_id]
        ways = [after(target) for target in _following(knowledge, state, node, known)]
        if not ways:
            return Remaining()
        asked = node.check is not None and node.check not in known and fits(knowledge, node.check, state.vehicle)
        minutes = knowledge.checks[node.check].minutes if asked and node.check else 0.0
        return Remaining(
            min(one.fewest for one in ways) + asked,
            max(one.most for one in ways) + asked,
            min(one.least_min for one in ways) + minutes,
            max(one.most_min for one in ways) + minutes,
        )

    return after(place_of(knowledge, state).node_id)


def _following(knowledge: Knowledge, state: State, node: Node, known: dict[str, tuple[str, ...]]) -> list[str]:
    """The nodes that may come next; of a check that was made the one that its finding leads to."""
    if node.by_pulley:
        return [target for kind, target in node.by_pulley.items() if kind == state.pulley]
    if node.check is None:
        return []
    if not fits(knowledge, node.check, state.vehicle):
        return [passed(node)] if passed(node) else []
    if node.check not in known:
        return list(dict.fromkeys(node.next.values()))
    found = known[node.check]
    first = next((one.id for one in knowledge.checks[node.check].outcomes if one.id in found), "")
    target = node.next.get(first) if first else node.cannot
    return [target] if target else []
