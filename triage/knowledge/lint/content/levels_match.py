"""The outcomes of a check with a levelled sign are the levels of the sign.

**Why.** Such an outcome is evidence for its level; one without a level is evidence for nothing.

**Passes.** The outcomes, without those that say nothing, are the levels in the same order, the normal one first.

**Fails.** An outcome that is no level, a level that is no outcome, or another order.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every check whose outcomes are not the levels of its sign."""
    for check in knowledge.checks.values():
        sign = knowledge.signs.get(check.sign or "")
        outcomes = [outcome.id for outcome in check.outcomes if not outcome.says_nothing]
        if sign is not None and outcomes != list(sign.levels):
            message = f"The outcomes of {check.id} ({', '.join(outcomes)}) are not the levels of {sign.id}."
            yield Fault(origins.place("checks", check.id, "sign"), message, f"They are: {', '.join(sign.levels)}.")
