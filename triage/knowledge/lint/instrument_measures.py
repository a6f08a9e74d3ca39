"""A reading is made with an instrument that measures what is typed.

**Why.** Whether a reading is too close to a limit depends on the deviation of its instrument, in the unit of what
is typed.

**Passes.** `instrument: torque-wrench` with `measures: torque`, and a part of kind `torque`.

**Fails.** An instrument that measures nothing, or another kind than every part of the reading. Also a reading of
several parts without a `formula` that makes one quantity of them.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.origins import Origins


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every reading whose instrument does not measure it, or whose parts are not put together."""
    for check in knowledge.checks.values():
        if check.reading is None:
            continue
        path = ("checks", check.id, "reading")
        typed = [part.kind for part in check.reading.parts]
        tool = knowledge.tools.get(check.reading.instrument)
        if tool is not None and tool.measures not in typed:
            message = f"The instrument '{tool.id}' measures {tool.measures or 'nothing'}, not {' or '.join(typed)}."
            yield Fault(origins.place(*path, "instrument"), message, "Name the instrument of the typed part.")
        if len(typed) != 1 and check.reading.formula is None:
            message = f"The reading of {check.id} has {len(typed)} parts and no formula."
            yield Fault(origins.place(*path, "parts"), message, "Add 'formula:', or leave one part.")
