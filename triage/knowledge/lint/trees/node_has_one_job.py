"""A node of a tree has exactly one job.

**Why.** The walk looks at one job only; a second one would be written, reviewed and never used.

**Passes.** A node with one of `check`, `by_pulley`, `conclude` or `end`; with `check` also `next`, `cannot` and
perhaps `skip`.

**Fails.** A node with `check` and `conclude`, with none of the four, or with `next`, `cannot` or `skip` but no
`check`.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every node that has no job, several, or ways on without a check."""
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            place = origins.place_of_key("trees", tree.symptom, "nodes", node_id)
            jobs = [name for name in ("check", "by_pulley", "conclude", "end") if getattr(node, name)]
            if len(jobs) != 1:
                had = f"has {' and '.join(jobs)}" if jobs else "has nothing to do"
                yield Fault(place, f"Node '{node_id}' {had}.", "Give it one of check, by_pulley, conclude or end.")
            elif jobs != ["check"] and (node.next or node.cannot or node.skip):
                yield Fault(place, f"Node '{node_id}' has ways on but no check.", "Take away next, cannot and skip.")
