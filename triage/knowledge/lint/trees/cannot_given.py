"""A check that could not be done leads on as well.

**Why.** A tool is missing, a bolt is seized, a cover does not come off: this happens in every job and must not end
it.

**Passes.** `cannot: next-node` at each node with a check.

**Fails.** A node with `check` and without `cannot`.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every node with a check that does not say where to go when it could not be done."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            if node.check and not node.cannot:
                place = origins.place_of_key("trees", tree.symptom, "nodes", node_id)
                message = f"Node '{node_id}' does not say where to go when {node.check} could not be done."
                yield Fault(place, message, "Add 'cannot:' and a node.")
