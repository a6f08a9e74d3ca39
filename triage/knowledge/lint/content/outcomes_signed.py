"""Every outcome that is not normal shows a sign, or says that it says nothing.

**Why.** An outcome without a sign is no evidence; an author who meant that says so.

**Passes.** `sign:` at each outcome but the normal ones, or `says_nothing: true` (not sure, cannot tell), or a
levelled sign for the whole check.

**Fails.** An outcome that is normal on no pulley type and has neither; or one that has both.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every outcome that leaves open what it shows."""
    for check in knowledge.checks.values():
        normal = {check.normal(pulley) for pulley in PULLEYS} if check.outcomes else set()
        for position, outcome in enumerate(check.outcomes):
            place = origins.place("checks", check.id, "outcomes", position)
            if outcome.sign and outcome.says_nothing:
                message = f"Outcome '{outcome.id}' shows a sign and says nothing."
                yield Fault(place, message, "Take away one of 'sign' and 'says_nothing'.")
            elif not (check.sign or outcome.sign or outcome.says_nothing or outcome.id in normal):
                message = f"Outcome '{outcome.id}' of {check.id} shows no sign."
                yield Fault(place, message, "Add 'sign:', or 'says_nothing: true'.")
