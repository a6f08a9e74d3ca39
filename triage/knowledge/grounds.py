"""Which findings are grounds for concluding a cause, for whoever plans another route than the tree's.

An outcome speaks for the causes that produce its sign; what was only told at the counter does not. It is a ground where
the tree's author goes a way of its own for it, other than after what says nothing of the cause, and concludes the cause
on that way: a borderline angle that the author lets pass is none. Where the author concludes a cause after one certain
check alone, as that a noise is not from the drive after a run without the belt, nothing but that check is a ground for
it.
"""

from collections.abc import Mapping

from triage.knowledge.edges import Edge, edges, reached
from triage.knowledge.models import Check, Knowledge, Tree

Grounds = Mapping[str, Mapping[str, frozenset[str]]]
"""By check and outcome, the causes that it is a ground for."""


def grounds(knowledge: Knowledge, tree: Tree) -> Grounds:
    """The grounds for each cause.

    Args:
        knowledge: checks, and signs with what produces them.
        tree: the authored tree.
    """
    checks = dict.fromkeys(node.check for node in tree.nodes.values() if node.check)
    spoken = {
        check: {
            outcome.id: speaks_for(knowledge, knowledge.checks[check], outcome.id)
            for outcome in knowledge.checks[check].outcomes
        }
        for check in checks
        if check
    }
    concluded = {cause for node in tree.nodes.values() for cause in node.conclude}
    alone = {cause: _needed(tree, spoken, cause) for cause in concluded}
    return {
        check: {
            outcome: frozenset(
                cause
                for cause in causes & concluded
                if check in (alone[cause] or (check,)) and _led_to(tree, check, some, outcome, cause)
            )
            for outcome, causes in some.items()
        }
        for check, some in spoken.items()
    }


def speaks_for(knowledge: Knowledge, check: Check, outcome_id: str) -> frozenset[str]:
    """The causes that an outcome speaks for."""
    outcome = check.outcome(outcome_id)
    sign = knowledge.signs.get(check.sign or (outcome.sign if outcome else "") or "")
    if sign is None or outcome is None or check.way == "ask" or outcome.says_nothing:
        return frozenset()
    return frozenset(cause for cause, levels in sign.produced_by.items() if not check.sign or outcome.id in levels)


def _needed(tree: Tree, spoken: Grounds, cause: str) -> frozenset[str]:
    """The checks without whose word for a cause the tree never concludes it."""
    speaking = [check for check, told in spoken.items() if any(cause in causes for causes in told.values())]
    return frozenset(check for check in speaking if not _concluded_without(tree, spoken[check], cause, check))


def _concluded_without(tree: Tree, told: Mapping[str, frozenset[str]], cause: str, check: str) -> bool:
    closed: set[tuple[str, Edge]] = {
        (node_id, edge)
        for node_id, node in tree.nodes.items()
        if node.check == check
        for edge in edges(node)
        if edge.by == "outcome" and cause in told.get(edge.choice, ())
    }
    return any(cause in tree.nodes[node_id].conclude for node_id in reached(tree, [tree.start], closed=closed))


def _led_to(tree: Tree, check: str, told: Mapping[str, frozenset[str]], outcome: str, cause: str) -> bool:
    """Whether the tree concludes a cause on a way that it takes for an outcome and not where nothing speaks for it."""
    nodes = [node for node in tree.nodes.values() if node.check == check and outcome in node.next]
    silent = [
        {node.cannot, *(to for other, to in node.next.items() if cause not in told.get(other, ()))} for node in nodes
    ]
    ways = [node.next[outcome] for node, others in zip(nodes, silent, strict=True) if others - {node.next[outcome]}]
    return any(cause in tree.nodes[node_id].conclude for node_id in reached(tree, ways))
