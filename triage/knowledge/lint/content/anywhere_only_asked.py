"""Only a question can be answered anywhere.

**Why.** Whoever looks, feels, listens or measures stands at the vehicle, and the session must know in which state
it is.

**Passes.** `state: anywhere` with `way: ask`.

**Fails.** `state: anywhere` with another way.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every check that is made at the vehicle but declares no vehicle state."""
    for check in knowledge.checks.values():
        if check.state == "anywhere" and check.way != "ask":
            message = f"Check {check.id} is made at the vehicle, but its state is 'anywhere'."
            yield Fault(origins.place("checks", check.id, "state"), message, "Name the vehicle state that it needs.")
