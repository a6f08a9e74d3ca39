"""Work is done with the engine stopped.

**Why.** A remedy puts hands and tools into the drive. What has to be judged with the engine running is a check, and
comes after the work under `repeat`.

**Passes.** A remedy whose state has the engine stopped.

**Fails.** A remedy whose state has the engine running.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every remedy that would be done beside a running engine."""
    for remedy in knowledge.remedies.values():
        state = knowledge.states.get(remedy.state)
        if state is not None and state.engine == "running":
            message = f"Remedy {remedy.id} is done in '{state.id}', with the engine running."
            hint = "Choose a state with the engine stopped."
            yield Fault(origins.place("remedies", remedy.id, "state"), message, hint)
