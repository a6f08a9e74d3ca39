"""Which findings are grounds for concluding a cause, for whoever plans another route than the tree's.

An outcome speaks for the causes that produce its sign; what was only told at the counter does not. It is a ground where
the tree's author goes a way of its own for it, other than after what says nothing of the cause, and concludes the cause
on that way without the word of another check: a borderline angle that the author lets pass is none. Where the author
never concludes a cause without one check, as that a noise is not from the drive without a run with the belt off,
nothing but that check is a ground for it.
"""

from collections.abc import Collection, Mapping

from triage.knowledge.models import Check, Knowledge, Tree
from triage.knowledge.tree_edges import Edge, edges, reached

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
                if check in (alone[cause] or (check,)) and _led_to(tree, spoken, (check, outcome), cause, alone[cause])
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
    return frozenset(
        check for check in speaking if not _concludes(tree, [tree.start], cause, _words_of(tree, spoken, check, cause))
    )


def _words_of(tree: Tree, spoken: Grounds, check: str, cause: str) -> frozenset[tuple[str, Edge]]:
    """The ways that the tree takes where a check speaks for a cause."""
    return frozenset(
        (node_id, edge)
        for node_id, node in tree.nodes.items()
        if node.check == check
        for edge in edges(node)
        if edge.by == "outcome" and cause in spoken[check].get(edge.choice, ())
    )


def _concludes(tree: Tree, starts: list[str], cause: str, closed: Collection[tuple[str, Edge]]) -> bool:
    return any(cause in tree.nodes[node_id].conclude for node_id in reached(tree, starts, closed=closed))


def _led_to(tree: Tree, spoken: Grounds, outcome: tuple[str, str], cause: str, needed: Collection[str]) -> bool:
    """Whether the tree concludes a cause on a way of its own for an outcome of a check.

    A way of its own is one that is not taken where nothing speaks for the cause. What other checks say for it on that
    way is their word, except where the tree never concludes the cause without this check.
    """
    check, told = outcome[0], spoken[outcome[0]]
    nodes = [node for node in tree.nodes.values() if node.check == check and outcome[1] in node.next]
    silent = [
        {node.cannot, *(to for other, to in node.next.items() if cause not in told.get(other, ()))} for node in nodes
    ]
    ways = [
        node.next[outcome[1]] for node, others in zip(nodes, silent, strict=True) if others - {node.next[outcome[1]]}
    ]
    others = () if check in needed else (other for other in spoken if other != check)
    closed = _other_answers(tree, outcome).union(*(_words_of(tree, spoken, other, cause) for other in others))
    return _concludes(tree, ways, cause, closed)


def _other_answers(tree: Tree, outcome: tuple[str, str]) -> frozenset[tuple[str, Edge]]:
    """The ways of the same check's other outcomes, which nobody takes who has found this one."""
    return frozenset(
        (node_id, edge)
        for node_id, node in tree.nodes.items()
        if node.check == outcome[0]
        for edge in edges(node)
        if edge.by == "outcome" and edge.choice != outcome[1]
    )
