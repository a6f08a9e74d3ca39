"""A conclusion stands by at most two causes.

**Why.** Three causes are no conclusion: the technician would still have to find out which.

**Passes.** `conclude: [alternator-bearing]`, or two causes that no check of a workshop can tell apart.

**Fails.** Three causes, or the same one twice.
"""

from collections.abc import Iterator
from typing import Final

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins

_MOST: Final = 2


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every conclusion with too many causes or one twice."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            place = origins.place("trees", tree.symptom, "nodes", node_id, "conclude")
            if len(node.conclude) > _MOST:
                message = f"Node '{node_id}' concludes {len(node.conclude)} causes."
                yield Fault(place, message, "Add a check that tells them apart, or end undecided.")
            elif len(set(node.conclude)) < len(node.conclude):
                yield Fault(place, f"Node '{node_id}' concludes the same cause twice.", "Take one away.")
