"""A round stays in one vehicle state, and a node is offered with a round that holds its check.

**Why.** A round is one go: whoever makes it stands in one place, and nothing is made safe in the middle of it.

**Passes.** A round whose checks are all made in its state, all of them looks from outside (`untouched`) or none; a node
whose `round` lists its `check`.

**Fails.** A check of another state, or one that uses something up, in a round; looks from outside beside checks with
hands in; a round of timed runs; a node whose round does not list its check.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge, Round
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every check that does not belong into its round, and every node that is offered with another's."""
    for one in knowledge.rounds.values():
        yield from _of_round(knowledge, origins, one)
    for tree in knowledge.trees.values():
        for node_id, node in tree.nodes.items():
            known = knowledge.rounds.get(node.round or "")
            if known and node.check not in known.checks:
                place = origins.place("trees", tree.symptom, "nodes", node_id, "round")
                yield Fault(place, f"The round '{known.id}' does not list the check of this node.", "Name another.")


def _of_round(knowledge: Knowledge, origins: Origins, one: Round) -> Iterator[Fault]:
    place = knowledge.states.get(one.state)
    if place and place.run_limit:
        message = f"The round '{one.id}' is made in timed runs."
        yield Fault(origins.place("rounds", one.id, "state"), message, "Leave its checks to be made one by one.")
    checks = [knowledge.checks.get(check) for check in one.checks]
    first = next((check for check in checks if check), None)
    for position, check in enumerate(checks):
        if check is None or first is None:
            continue
        at = origins.place("rounds", one.id, "checks", position)
        if check.state != one.state:
            yield Fault(at, f"The check '{check.id}' is made in another state than its round.", "Take it out.")
        elif check.consumes:
            yield Fault(at, f"The check '{check.id}' uses something up, which is asked for by itself.", "Take it out.")
        elif check.untouched != first.untouched:
            message = f"The check '{check.id}' and '{first.id}' do not both touch the drive, or leave it untouched."
            yield Fault(at, message, "Make two rounds of them.")
