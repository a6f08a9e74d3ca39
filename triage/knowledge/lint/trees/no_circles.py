"""No path of a tree comes back to a node that it passed.

**Why.** A technician who goes round in circles stops trusting the tree, and the session would never end.

**Passes.** Paths that branch and meet again further down.

**Fails.** A node that leads to one of those before it, also by `cannot` or `skip`.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge, Tree
from triage.knowledge.origins import Origins
from triage.knowledge.tree_edges import edges


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every node from which a path leads straight back to a node that it passed."""
    for tree in knowledge.trees.values():
        for node_id, target in _ways_back(tree):
            place = origins.place_of_key("trees", tree.symptom, "nodes", node_id)
            message = f"Node '{node_id}' leads back to '{target}', which leads to it."
            yield Fault(place, message, "Lead on to a node that comes later.")


def _ways_back(tree: Tree) -> Iterator[tuple[str, str]]:
    """Walk depth first; a way to a node that is still being walked closes a circle."""
    walking: dict[str, list[str]] = {}
    done: set[str] = set()
    for start in tree.nodes:
        stack = [start]
        while stack:
            node_id = stack[-1]
            waiting = walking.setdefault(node_id, [] if node_id in done else _targets(tree, node_id))
            if not waiting:
                done.add(stack.pop())
                del walking[node_id]
                continue
            target = waiting.pop()
            if target in walking:
                yield node_id, target
            elif target not in done:
                stack.append(target)


def _targets(tree: Tree, node_id: str) -> list[str]:
    return list(dict.fromkeys(edge.target for edge in edges(tree.nodes[node_id]) if edge.target in tree.nodes))
