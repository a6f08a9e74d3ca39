"""A node says where to go without its check exactly when the check does not fit every vehicle.

**Why.** A check for decouplers is passed over on a solid pulley; where every vehicle makes the check, a `skip` is
never used.

**Passes.** `skip: next-node` where the check has `only_for`, and no `skip` where it has not.

**Fails.** One without the other.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every node that lacks a skip or has one in vain."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            check = knowledge.checks.get(node.check or "")
            if check is None or bool(check.only_for) == bool(node.skip):
                continue
            path = ("trees", tree.symptom, "nodes", node_id)
            if node.skip:
                message = f"Check {check.id} fits every vehicle, so 'skip' is never used."
                yield Fault(origins.place_of_key(*path, "skip"), message, "Take it away.")
            else:
                message = f"Check {check.id} is only for {', '.join(check.only_for)}; the node says nothing for others."
                yield Fault(origins.place_of_key(*path), message, "Add 'skip:' and a node.")
