"""An answer counts once for a cause: as a sign that it produces, or as a circumstance.

**Why.** Counted twice, a cause would look likelier than the answer makes it.

**Passes.** An outcome that shows a sign of one cause and, as a circumstance, shifts another.

**Fails.** A circumstance with `answered`, and odds for a cause that produces a sign of that check.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every cause for which an answer would count twice."""
    for circumstance in knowledge.circumstances.values():
        for check_id in circumstance.answered:
            check = knowledge.checks.get(check_id)
            shown = _producers(knowledge, check) if check else frozenset()
            for cause in circumstance.odds:
                if cause in shown:
                    place = origins.place_of_key("circumstances", circumstance.id, "odds", cause)
                    message = f"'{check_id}' counts for '{cause}' already, by a sign that the cause produces."
                    yield Fault(place, message, "Leave it out here, or there.")


def _producers(knowledge: Knowledge, check: Check) -> frozenset[str]:
    signs = [check.sign, *(outcome.sign for outcome in check.outcomes)]
    return frozenset(cause for sign in signs if sign in knowledge.signs for cause in knowledge.signs[sign].produced_by)
