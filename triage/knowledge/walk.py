"""The one function that picks the next step from a tree, the findings and the vehicle.

Session, recorded cases and every later use of a tree call only this, so that they cannot drift apart. The walk always
starts at the root: a finding that was taken back or corrected changes the path by itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from triage.knowledge.models import Knowledge, Node, Tree
from triage.knowledge.vehicle import Vehicle


@dataclass(frozen=True)
class TreePlace:
    """Where a walk stands.

    Args:
        node_id: the node in the tree.
        node: a check to make now, a conclusion or an end.
        path: the checks with a finding passed on the way, in order; one that two nodes read counts once.
    """

    node_id: str
    node: Node
    path: tuple[str, ...]


def walk(
    knowledge: Knowledge,
    tree: Tree,
    findings: Mapping[str, tuple[str, ...]],
    vehicle: Vehicle | str,
) -> TreePlace:
    """Follow the findings from the root to the first node that needs a person.

    Args:
        knowledge: the checks that the tree names.
        tree: the tree of the session's symptom.
        findings: outcome ids by check id; an empty tuple means "could not be done".
        vehicle: what is told of it, or its specified pulley type alone.

    Returns:
        The place of a check without a finding, of a conclusion, or of an end.
    """
    node_id = tree.start
    path: tuple[str, ...] = ()
    for _ in range(len(tree.nodes) + 1):
        node = tree.nodes[node_id]
        if node.check is None and not node.by_pulley:
            return TreePlace(node_id, node, path)
        if node.check is not None and node.check not in findings and fits(knowledge, node.check, vehicle):
            return TreePlace(node_id, node, path)
        if node.check is not None and node.check not in path and fits(knowledge, node.check, vehicle):
            path = (*path, node.check)
        node_id = _following(knowledge, node, findings, vehicle)
    raise ValueError(f"The tree of {tree.symptom} runs in a circle.")


def fits(knowledge: Knowledge, check_id: str, vehicle: Vehicle | str) -> bool:
    """Whether a check makes sense on a vehicle.

    Args:
        knowledge: what the check is for, and what it needs.
        check_id: the check.
        vehicle: what is told of it, or its specified pulley type alone.
    """
    check = knowledge.checks[check_id]
    for_pulley = not check.only_for or pulley_of(vehicle) in check.only_for
    if isinstance(vehicle, str):
        return for_pulley
    return for_pulley and all(vehicle.is_one_of(fact, values) for fact, values in check.needs.items())


def pulley_of(vehicle: Vehicle | str) -> str:
    """The specified pulley type of a vehicle."""
    return vehicle if isinstance(vehicle, str) else vehicle.pulley


def passed(node: Node) -> str:
    """Where a tree goes on from a check that makes no sense on the vehicle."""
    return node.skip or node.cannot or ""


def _following(
    knowledge: Knowledge, node: Node, findings: Mapping[str, tuple[str, ...]], vehicle: Vehicle | str
) -> str:
    if node.check is None:
        return next(target for kind, target in node.by_pulley.items() if kind == pulley_of(vehicle))
    if not fits(knowledge, node.check, vehicle):
        return passed(node)
    outcomes = findings[node.check]
    if not outcomes:
        return node.cannot or ""
    first = next(outcome.id for outcome in knowledge.checks[node.check].outcomes if outcome.id in outcomes)
    return node.next[first]
