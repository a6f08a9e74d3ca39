"""Numbers of a layout that stand without a unit, and the unit that was taken for them."""

from collections.abc import Iterator
from typing import get_args, get_type_hints

from triage.documents import Model
from triage.record.layout import Kind, Layout
from triage.units import parse_quantity


def assumed_units(layout: Layout) -> Iterator[str]:
    """Say which unit was taken where none was typed, a sentence a unit, each number with its place in the layout."""
    by_unit: dict[str, list[str]] = {}
    for place, text, kind in _typed(layout, ""):
        quantity = parse_quantity(text, kind)
        if quantity.assumed:
            by_unit.setdefault(quantity.unit, []).append(f"{place} {text}")
    for unit, bare in by_unit.items():
        yield f"No unit typed, taken as {unit}: {', '.join(bare)}."


def _typed(model: Model, within: str) -> Iterator[tuple[str, str, str]]:
    """Every quantity below a model: its place, its text, its kind."""
    hints = get_type_hints(type(model), include_extras=True)
    for name, value in model:
        place = f"{within}.{name}" if within else name
        if isinstance(value, Model):
            yield from _typed(value, place)
            continue
        kind = _kind(hints[name])
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, Model):
                yield from _typed(one, getattr(one, "part", place))
            elif one is not None and kind:
                yield place, one, kind


def _kind(hint: object) -> str:
    """The kind of quantity that a field is annotated with, none for names and counts."""
    if isinstance(hint, Kind):
        return hint.id
    return next((kind for kind in map(_kind, get_args(hint)) if kind), "")
