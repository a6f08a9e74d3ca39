"""After an outcome that closes running, or a look that told nothing, no path of the tree asks for a running engine.

**Why.** The session would refuse the check, and the technician would be led to a door that stays shut.

**Passes.** After an outcome with `closes_running` only checks with the engine stopped follow, down to each end. So they
do where a look at the stopped drive, belt on, that has such an outcome could not be done or said nothing.

**Fails.** A running check anywhere behind such an outcome, or behind `cannot` of such a look.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.gates import is_gate
from triage.knowledge.lint.safety.gate_before_running import engine
from triage.knowledge.models import Check, Knowledge, Node, Tree
from triage.knowledge.origins import Origins, Path
from triage.knowledge.tree_edges import reached


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every way behind which the engine stays off and that has a running check behind it."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            check = knowledge.checks.get(node.check or "")
            for way, target, why in _shut(knowledge, check, node) if check else ():
                running = _running_behind(knowledge, tree, target)
                if running:
                    place = origins.place("trees", tree.symptom, "nodes", node_id, *way)
                    message = f"{why}, but the running check '{running}' comes later."
                    yield Fault(place, message, "Lead on to checks with the engine stopped.")


def _shut(knowledge: Knowledge, check: Check, node: Node) -> Iterator[tuple[Path, str, str]]:
    """Each way behind which the engine stays off: where it is written, where it leads, and why."""
    gate = is_gate(knowledge, check)
    for outcome in check.outcomes:
        target = node.next.get(outcome.id, "")
        if outcome.closes_running:
            yield ("next", outcome.id), target, f"'{outcome.id}' closes running"
        elif gate and outcome.says_nothing:
            yield ("next", outcome.id), target, f"'{outcome.id}' leaves open whether the engine may run"
    if gate and node.cannot:
        yield ("cannot",), node.cannot, f"Nobody has seen whether the engine may run where '{check.id}' cannot be done"


def _running_behind(knowledge: Knowledge, tree: Tree, start: str) -> str:
    for node_id in reached(tree, [start]):
        check = knowledge.checks.get(tree.nodes[node_id].check or "")
        if check is not None and engine(knowledge, check) == "running":
            return check.id
    return ""
