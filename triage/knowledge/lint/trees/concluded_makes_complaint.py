"""What a tree concludes can make its complaint.

**Why.** A fault that cannot make the complaint is no answer to it, and the ranking would never put it forward.

**Passes.** The tree of `belt-chirp` concludes `pulley-misaligned`, one of those that produce that sign.

**Fails.** A cause in a conclusion that is not among those that produce the sign of the tree's symptom.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every cause that a tree concludes though it does not produce the symptom."""
    for tree in knowledge.trees.values():
        sign = knowledge.signs.get(tree.symptom)
        if sign is None:
            continue
        for node_id, node in tree.nodes.items():
            for cause in node.conclude:
                if cause not in sign.produced_by:
                    place = origins.place("trees", tree.symptom, "nodes", node_id, "conclude")
                    message = f"Node '{node_id}' concludes '{cause}', which does not produce '{tree.symptom}'."
                    yield Fault(place, message, "Name it in the sign of the symptom, or conclude something else.")
