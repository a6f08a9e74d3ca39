"""A round is listed in the order of doing, the one that keeps people and drive whole.

**Why.** Nobody loads or revs a drive whose belt was not seen to run true; what turns or stops the engine ends what was
made safe for the lines behind it.

**Passes.** A round with the engine running that begins with `belt-tracking`; a check that `does` something as the last.

**Fails.** Another check before `belt-tracking`, or a check that `does` something before the last of its round.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins
from triage.knowledge.rounds import TRACKING, is_running


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every line that is out of order."""
    for one in knowledge.rounds.values():
        for position, check_id in enumerate(one.checks):
            check = knowledge.checks.get(check_id)
            if check is None:
                continue
            place = origins.place("rounds", one.id, "checks", position)
            if position == 0 and is_running(knowledge, check) and check_id != TRACKING:
                yield Fault(place, f"A round with the engine running begins with '{TRACKING}'.", "Put it first.")
            if check.does and position + 1 < len(one.checks):
                message = f"The check '{check_id}' changes the vehicle for the lines behind it."
                yield Fault(place, message, "Put it last, or take it out.")
