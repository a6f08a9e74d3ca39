"""What the nodes of a tree and the ways between them are called in a drawing."""

from triage.knowledge.models import Knowledge, Node
from triage.knowledge.tree_edges import Edge, edges

_ENDS = {
    "nothing-wrong": "End: nothing wrong found",
    "not-reproduced": "End: not reproduced",
    "not-from-drive": "End: not from the drive",
    "undecided": "End: undecided",
}


def caption(knowledge: Knowledge, node: Node) -> str:
    """Name a node by its check, its causes or the way it ends."""
    if node.check:
        return knowledge.checks[node.check].name
    if node.conclude:
        return "Cause: " + ", or ".join(knowledge.causes[cause].name for cause in node.conclude)
    return _ENDS[node.end] if node.end else "Which pulley is specified?"


def detail(knowledge: Knowledge, node: Node) -> str:
    """Say how a node's check is made; empty for other nodes."""
    if not node.check:
        return ""
    check = knowledge.checks[node.check]
    state = knowledge.states[check.state].words if check.state in knowledge.states else "at the counter"
    people = f", {check.people} people" if check.people > 1 else ""
    before = f", set up with {knowledge.states[check.set_up.state].words}" if check.set_up else ""
    return f"{check.way}, {check.minutes:g} min{people}, {state}{before}"


def ways(knowledge: Knowledge, node: Node) -> list[tuple[list[str], str]]:
    """Gather the ways on from a node by where they lead: their names, then the target."""
    gathered: dict[str, list[str]] = {}
    for edge in edges(node):
        gathered.setdefault(edge.target, []).append(_name(knowledge, node, edge))
    return [(names, target) for target, names in gathered.items()]


def _name(knowledge: Knowledge, node: Node, edge: Edge) -> str:
    if edge.by == "cannot":
        return "could not be done"
    if edge.by == "skip":
        return "does not fit this vehicle"
    outcome = knowledge.checks[node.check].outcome(edge.choice) if node.check else None
    return outcome.words if outcome else edge.choice.replace("-", " ")
