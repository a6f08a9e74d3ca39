"""Every node of a tree can be reached from its start.

**Why.** A node that nothing leads to was reviewed for nothing, and usually another node leads to the wrong place.

**Passes.** Each node is named by `start` or by a node that is itself reached.

**Fails.** A node that stands there alone.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins
from triage.knowledge.tree_edges import reached


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every node that no path leads to."""
    for tree in knowledge.trees.values():
        if tree.start not in tree.nodes:
            continue
        visited = set(reached(tree, [tree.start]))
        for node_id in tree.nodes:
            if node_id not in visited:
                place = origins.place_of_key("trees", tree.symptom, "nodes", node_id)
                yield Fault(place, f"No path leads to node '{node_id}'.", "Lead to it, or take it away.")
