"""What is used up is used up with the engine stopped.

**Why.** A cap is prised off or a part cut with hands in the drive.

**Passes.** `consumes:` in a state with the engine stopped.

**Fails.** `consumes:` in a state with the engine running, or anywhere.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.lint.safety.gate_before_running import engine
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every check that uses something up without a stopped engine."""
    for check in knowledge.checks.values():
        known = check.state in knowledge.states or check.state == "anywhere"
        if check.consumes and known and engine(knowledge, check) != "stopped":
            message = f"Check {check.id} uses something up, but the engine is not stopped."
            yield Fault(origins.place("checks", check.id, "state"), message, "Choose a state with the engine stopped.")
