"""What is typed first tells the ways to a reading apart.

**Why.** Nobody is asked which way was taken: the unit of what is typed first says so. What a layout offers is taken
later, part by part, and must be of the part's kind.

**Passes.** A reading whose first part is a `force`, with one of `other_ways` that begins with a `frequency`, each way
under an id of its own and with parts under other ids than the rest.

**Fails.** Two ways that begin with the same kind of quantity, or that share their id or the ids of their parts; a first
part with `from_layout`; `from_layout: ribs` on a part that is no `number`.
"""

from collections.abc import Iterator
from typing import Final

from triage.errors import Fault
from triage.knowledge.models import Check, Knowledge, Way
from triage.knowledge.origins import Origins, Path

_OFFERED: Final = {
    "longest-span": "length",
    "belt-mass": "mass-per-length",
    "ribs": "number",
    "crank-diameter": "length",
    "driven-diameter": "length",
}
"""Kind of each figure that a layout has."""


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every way that cannot be told from another, and every part that a layout cannot fill."""
    for check in knowledge.checks.values():
        if check.reading is None:
            continue
        yield from _alike(check, check.reading.ways, origins)
        for position, way in enumerate(check.reading.ways):
            yield from _misfits(way, _path(check, position), origins)


def _path(check: Check, position: int) -> Path:
    path: Path = ("checks", check.id, "reading")
    return path if position == 0 else (*path, "other_ways", position - 1)


def _alike(check: Check, ways: tuple[Way, ...], origins: Origins) -> Iterator[Fault]:
    for position, way in enumerate(ways[1:], 1):
        before, place = ways[:position], origins.place(*_path(check, position))
        if way.id in {other.id for other in before}:
            yield Fault(place, f"The id '{way.id}' does not tell this way from the others.", "Give it its own.")
        if _first(way) in map(_first, before):
            message = f"Two ways to {check.id} begin with a part of kind '{_first(way)}'."
            yield Fault(place, message, "Begin with what nobody types for the other way.")
        if {part.id for part in way.parts} in [{part.id for part in other.parts} for other in before]:
            yield Fault(place, f"Two ways to {check.id} have the same parts.", "Give each part its own id.")


def _first(way: Way) -> str:
    return way.parts[0].kind if way.parts else ""


def _misfits(way: Way, path: Path, origins: Origins) -> Iterator[Fault]:
    for position, part in enumerate(way.parts):
        if part.from_layout is None:
            continue
        place = origins.place(*path, "parts", position, "from_layout")
        if position == 0:
            yield Fault(place, "What is typed first cannot come from a layout.", "Let something measured come first.")
        if part.kind != _OFFERED[part.from_layout]:
            message = f"'{part.from_layout}' is of kind '{_OFFERED[part.from_layout]}', the part of kind '{part.kind}'."
            yield Fault(place, message, "Name what fits the part.")
