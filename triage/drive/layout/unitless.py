"""Numbers of a layout that stand without a unit, and the unit that was taken for them."""

from collections.abc import Iterator

from triage.drive.layout.typed import typed_quantities
from triage.record.layout import Layout
from triage.units import parse_quantity


def assumed_units(layout: Layout) -> Iterator[str]:
    """Say which unit was taken where none was typed, a sentence a unit, each number with its place in the layout."""
    by_unit: dict[str, list[str]] = {}
    for one in typed_quantities(layout):
        quantity = parse_quantity(one.text, one.kind)
        if quantity.assumed:
            by_unit.setdefault(quantity.unit, []).append(f"{one.place} {one.text}")
    for unit, bare in by_unit.items():
        yield f"No unit typed, taken as {unit}: {', '.join(bare)}."
