"""The ways that lead on from a node of a tree, for all who look at a tree as a whole: lint, drawings, proofs."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Literal

from triage.knowledge.models import Node, Tree


@dataclass(frozen=True)
class Edge:
    """One way on.

    Args:
        by: what decides for it.
        choice: the outcome or the pulley type; empty for the other two.
        target: the node it leads to.
    """

    by: Literal["outcome", "pulley", "cannot", "skip"]
    choice: str
    target: str


def edges(node: Node) -> tuple[Edge, ...]:
    """List the ways on from a node in the order in which its author wrote them."""
    return tuple(
        [Edge("outcome", outcome, target) for outcome, target in node.next.items()]
        + [Edge("pulley", pulley, target) for pulley, target in node.by_pulley.items()]
        + [Edge("cannot", "", target) for target in (node.cannot,) if target]
        + [Edge("skip", "", target) for target in (node.skip,) if target]
    )


def reached(tree: Tree, starts: Collection[str], *, closed: Collection[tuple[str, Edge]] = ()) -> Iterator[str]:
    """Visit every existing node that can be reached, each once.

    Args:
        tree: the tree to walk in.
        starts: the nodes to walk from; they are visited too.
        closed: ways that must not be taken, each with the node it leaves from.
    """
    waiting, seen = list(starts), set(starts)
    while waiting:
        node_id = waiting.pop()
        if node_id not in tree.nodes:
            continue
        yield node_id
        for edge in edges(tree.nodes[node_id]):
            if edge.target not in seen and (node_id, edge) not in closed:
                seen.add(edge.target)
                waiting.append(edge.target)
