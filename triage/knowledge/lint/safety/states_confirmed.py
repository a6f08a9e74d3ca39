"""Each vehicle state is entered through confirmations.

**Why.** The session lets no one into a vehicle state before each of its confirmations was given. A state that lists
none has a door without a lock.

**Passes.** `confirmations: [parking-brake, …]` with at least one of them.

**Fails.** `confirmations: []`.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every vehicle state that nothing has to be confirmed for."""
    for state in knowledge.states.values():
        if not state.confirmations:
            message = f"Nothing is confirmed before the vehicle state {state.id} is entered."
            hint = "List what must be confirmed, one by one."
            yield Fault(origins.place("states", state.id, "confirmations"), message, hint)
