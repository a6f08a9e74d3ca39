"""Every outcome of a check leads on, and nothing else does.

**Why.** An outcome without a next node would leave the technician standing; a next node for an outcome that does
not exist was meant for another one.

**Passes.** `next:` with each outcome of the node's check once.

**Fails.** An outcome is left out, or `next:` names one that the check does not have.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.nearest import nearest
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every outcome without a next node, and every next node without an outcome."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            check = knowledge.checks.get(node.check or "")
            if check is None:
                continue
            path = ("trees", tree.symptom, "nodes", node_id)
            known = [outcome.id for outcome in check.outcomes]
            for outcome in known:
                if outcome not in node.next:
                    message = f"Node '{node_id}' does not say what follows '{outcome}' of {check.id}."
                    yield Fault(origins.place_of_key(*path, "next"), message, f"Add '{outcome}:' and a node.")
            for outcome in node.next:
                if outcome not in known:
                    message = f"Check {check.id} has no outcome '{outcome}'."
                    yield Fault(origins.place_of_key(*path, "next", outcome), message, nearest(outcome, known))
