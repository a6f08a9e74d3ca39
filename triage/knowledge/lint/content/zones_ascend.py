"""The zones of a reading lie one above the other and cover everything.

**Why.** A reading is in exactly one zone; a gap or an overlap would decide by accident.

**Passes.** Every zone but the last has a limit, `below`, that is a quantity of the reading's kind and larger than
the one before.

**Fails.** Limits that do not rise, are missing, cannot be read as that kind, or a limit on the last zone; no zone
at all.
"""

from collections.abc import Iterator

from triage.errors import Fault, TriageError
from triage.knowledge.models import Check, Knowledge, Reading
from triage.knowledge.origins import Origins
from triage.units import KINDS, parse_quantity


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every limit that is missing, too much, unreadable or not above the one before."""
    for check in knowledge.checks.values():
        if check.reading is not None:
            yield from _missing(check, check.reading, origins)
            if check.reading.kind in KINDS:
                yield from _falling(check, check.reading, origins)


def _missing(check: Check, reading: Reading, origins: Origins) -> Iterator[Fault]:
    path = ("checks", check.id, "reading", "zones")
    if not reading.zones:
        yield Fault(origins.place(*path), f"The reading of {check.id} has no zones.", "Add at least one.")
    for position, zone in enumerate(reading.zones):
        last = position == len(reading.zones) - 1
        if last and zone.below is not None:
            message = f"The last zone, '{zone.outcome}', has a limit; nothing is beyond it."
            yield Fault(origins.place_of_key(*path, position, "below"), message, "Take 'below' away, or add a zone.")
        if not last and zone.below is None:
            yield Fault(origins.place(*path, position), f"Zone '{zone.outcome}' has no limit.", "Add 'below:'.")


def _falling(check: Check, reading: Reading, origins: Origins) -> Iterator[Fault]:
    before: float | None = None
    for position, zone in enumerate(reading.zones):
        if zone.below is None:
            continue
        place = origins.place("checks", check.id, "reading", "zones", position, "below", "text")
        try:
            limit = parse_quantity(zone.below.text, reading.kind).value
        except TriageError as error:
            yield Fault(place, error.message, error.hint)
            continue
        if before is not None and limit <= before:
            yield Fault(place, f"The limit {zone.below.text} is not above the one before.", "Let the limits rise.")
        before = limit
