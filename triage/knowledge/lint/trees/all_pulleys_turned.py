"""A turn by the pulley type knows all of them.

**Why.** The specified pulley is one of five answers, `unknown` among them; the walk must find its way with each.

**Passes.** `by_pulley:` with solid, isolator, one-way-clutch, decoupler and unknown.

**Fails.** One of them is left out.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every turn that leaves out a pulley type."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            missing = [pulley for pulley in PULLEYS if pulley not in node.by_pulley]
            if node.by_pulley and missing:
                place = origins.place_of_key("trees", tree.symptom, "nodes", node_id, "by_pulley")
                yield Fault(place, f"Node '{node_id}' leaves out {', '.join(missing)}.", "Add a node for each.")
