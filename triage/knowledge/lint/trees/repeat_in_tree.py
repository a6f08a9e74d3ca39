"""The check that proves the complaint gone is one that the tree makes.

**Why.** After a repair the same check is made again and shown beside the first time; without a first time there is
nothing to compare.

**Passes.** `repeat: shutdown-listen` where a node of the tree has this check.

**Fails.** A check that no node of the tree has.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.nearest import nearest
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every tree whose proving check is not among its own."""
    for tree in knowledge.trees.values():
        made = [node.check for node in tree.nodes.values() if node.check]
        if tree.repeat in knowledge.checks and tree.repeat not in made:
            message = f"No node of this tree makes the check '{tree.repeat}' that is repeated after a repair."
            yield Fault(origins.place("trees", tree.symptom, "repeat"), message, nearest(tree.repeat, made))
