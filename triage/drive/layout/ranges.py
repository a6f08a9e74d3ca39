"""Quantities of a layout that were typed as a range or with ±, and the layout with each of them moved to either end.

Diameters and the cord's distance from the back are left out: what they leave open is carried by the pulleys' sizes.
"""

from collections.abc import Iterator

from triage.documents import Model
from triage.drive.layout.typed import Path, typed_quantities
from triage.record.layout import Layout
from triage.units import KINDS, parse_quantity, standard_uncertainty

SIZES = ("diameter", "cord_to_back")


def ranges_of(layout: Layout) -> tuple[str, ...]:
    """Name what was typed as a range, as its place and its text."""
    return tuple(
        f"{one.place} {one.text}" for one in typed_quantities(layout) if parse_quantity(one.text, one.kind).spread
    )


def unsure_layouts(layout: Layout) -> Iterator[tuple[Layout, Layout]]:
    """Write a layout with each range, one after the other, moved to either end of its standard uncertainty.

    Args:
        layout: as it was typed.

    Returns:
        a pair for each range, the greater one first, everything else as it was.

    Source: jcgm-100
    """
    for one in typed_quantities(layout):
        quantity = parse_quantity(one.text, one.kind)
        if not quantity.spread or one.path[-1] in SIZES:
            continue
        step = standard_uncertainty(quantity.spread)
        si = KINDS[one.kind].si
        above, below = (f"{quantity.value + way * step!r} {si}".strip() for way in (1, -1))
        yield _with(layout, one.path, above), _with(layout, one.path, below)


def _with(layout: Layout, path: Path, text: str) -> Layout:
    """A copy of a layout in which one quantity is written otherwise."""
    changed = _changed(layout, path, text)
    assert isinstance(changed, Layout)  # noqa: S101
    return changed


def _changed(within: object, path: Path, text: str) -> object:
    if not path:
        return text
    head, *rest = path
    if isinstance(within, tuple) and isinstance(head, int):
        return (*within[:head], _changed(within[head], tuple(rest), text), *within[head + 1 :])
    if isinstance(within, Model):
        return within.model_copy(update={str(head): _changed(getattr(within, str(head)), tuple(rest), text)})
    raise LookupError(path)
