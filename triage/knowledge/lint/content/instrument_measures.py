"""A reading is made with an instrument that measures what is typed.

**Why.** Whether a reading is too close to a limit depends on the deviation of its instrument, in the unit of what
is typed.

**Passes.** `instrument: torque-wrench` with `measures: torque`, and a part of kind `torque`. A part measured with
something else names its own `instrument`; one that is counted or stands on a sheet has `as_typed: true`.

**Fails.** An instrument that measures nothing, or another kind than every part that it is for. Also several parts
without a `formula` that makes one quantity of them. Each of `other_ways` is looked at like the reading itself.
"""

from collections.abc import Iterator

from triage.errors import Fault
from triage.knowledge.models import Knowledge, Part, Way
from triage.knowledge.origins import Origins, Path

_ALIKE = {"position": "length"}
"""Kinds that are measured with the same instruments."""


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every reading whose instrument does not measure it, or whose parts are not put together."""
    for check in knowledge.checks.values():
        if check.reading is None:
            continue
        path: Path = ("checks", check.id, "reading")
        for position, way in enumerate(check.reading.ways):
            inside = path if position == 0 else (*path, "other_ways", position - 1)
            yield from _unmeasured(knowledge, way, inside, origins)
            if len(way.parts) != 1 and way.formula is None:
                message = f"The reading of {check.id} has {len(way.parts)} parts and no formula."
                yield Fault(origins.place(*inside, "parts"), message, "Add 'formula:', or leave one part.")


def _unmeasured(knowledge: Knowledge, way: Way, path: Path, origins: Origins) -> Iterator[Fault]:
    shared = [part.kind for part in way.parts if part.instrument is None and not part.as_typed]
    yield from _other(knowledge, way.instrument, shared, (*path, "instrument"), origins)
    for position, part in enumerate(way.parts):
        if part.instrument:
            inside = (*path, "parts", position, "instrument")
            yield from _other(knowledge, part.instrument, [_measured(part)], inside, origins)


def _measured(part: Part) -> str:
    return _ALIKE.get(part.kind, part.kind)


def _other(knowledge: Knowledge, tool_id: str, kinds: list[str], path: Path, origins: Origins) -> Iterator[Fault]:
    tool = knowledge.tools.get(tool_id)
    if tool is not None and tool.measures not in kinds:
        message = f"The instrument '{tool.id}' measures {tool.measures or 'nothing'}, not {' or '.join(kinds)}."
        yield Fault(origins.place(*path), message, "Name the instrument of the typed part.")
