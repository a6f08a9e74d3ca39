"""Before the engine runs, someone has looked at the belt with the engine stopped.

**Why.** A belt that is torn, frayed or off its track can come apart when the engine runs. Looking first costs a
minute.

**Passes.** On each path a check of way `look` or `feel` in a state with the engine stopped and the belt on, with at
least one outcome that closes running (`closes_running`), before the first check in a state with the engine running.

**Fails.** A path to a running check without such a check, or on which it was skipped. Where it told nothing or could
not be done, [running-stays-closed](#running-stays-closed) looks on.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.gates import is_gate
from triage.knowledge.models import Check, Knowledge, Tree
from triage.knowledge.origins import Origins
from triage.knowledge.tree_edges import Edge, edges, reached


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every node with a running check that a path reaches without a look at the stopped drive."""
    for tree in knowledge.trees.values():
        if any(node.check and node.check not in knowledge.checks for node in tree.nodes.values()):
            continue  # what an unreadable check would have shown is not known
        for node_id in reached(tree, [tree.start], closed=_passed_gates(knowledge, tree)):
            check = knowledge.checks.get(tree.nodes[node_id].check or "")
            if check is not None and engine(knowledge, check) == "running":
                place = origins.place("trees", tree.symptom, "nodes", node_id, "check")
                message = f"A path leads to the running check '{check.id}' without a look at the stopped drive."
                yield Fault(place, message, "Put a check with the engine stopped and 'closes_running' outcomes before.")


def engine(knowledge: Knowledge, check: Check) -> str:
    """Say whether a check has the engine stopped or running; empty where it needs no vehicle state."""
    state = knowledge.states.get(check.state)
    return state.engine if state else ""


def _passed_gates(knowledge: Knowledge, tree: Tree) -> set[tuple[str, Edge]]:
    """Collect the ways behind which somebody has looked, or has tried to: running-stays-closed sees to those."""
    return {
        (node_id, edge)
        for node_id, node in tree.nodes.items()
        for check in [knowledge.checks.get(node.check or "")]
        if check is not None and is_gate(knowledge, check)
        for edge in edges(node)
        if edge.by != "skip"
    }
