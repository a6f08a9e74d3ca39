"""After an outcome that closes running, no path of the tree asks for a running engine.

**Why.** The session would refuse the check, and the technician would be led to a door that stays shut.

**Passes.** After an outcome with `closes_running` only checks with the engine stopped follow, down to each end.

**Fails.** A running check anywhere behind such an outcome.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.edges import reached
from triage.knowledge.lint.gate_before_running import engine
from triage.knowledge.models import Knowledge, Tree
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every outcome that closes running and has a running check behind it."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            check = knowledge.checks.get(node.check or "")
            closing = [outcome.id for outcome in check.outcomes if outcome.closes_running] if check else []
            for outcome in closing:
                running = _running_behind(knowledge, tree, node.next.get(outcome, ""))
                if running:
                    path = ("trees", tree.symptom, "nodes", node_id, "next", outcome)
                    message = f"'{outcome}' closes running, but the running check '{running}' comes later."
                    yield Fault(origins.place(*path), message, "Lead on to checks with the engine stopped.")


def _running_behind(knowledge: Knowledge, tree: Tree, start: str) -> str:
    for node_id in reached(tree, [start]):
        check = knowledge.checks.get(tree.nodes[node_id].check or "")
        if check is not None and engine(knowledge, check) == "running":
            return check.id
    return ""
