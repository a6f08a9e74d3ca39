"""Every quantity that stands in a layout, with its place and its kind."""

from collections.abc import Iterator
from typing import NamedTuple, get_args, get_type_hints

from triage.documents import Model
from triage.record.layout import Kind, Layout

Path = tuple[str | int, ...]


class TypedQuantity(NamedTuple):
    """One quantity of a layout.

    Args:
        place: as a person names it, such as `crank.diameter`.
        text: as it was typed.
        kind: id of its kind.
        path: keys and positions that lead to it.
    """

    place: str
    text: str
    kind: str
    path: Path


def typed_quantities(layout: Layout) -> Iterator[TypedQuantity]:
    """Go through a layout's quantities in the order of its keys."""
    return _below(layout, "", ())


def _below(model: Model, within: str, path: Path) -> Iterator[TypedQuantity]:
    hints = get_type_hints(type(model), include_extras=True)
    for name, value in model:
        place, own = (f"{within}.{name}" if within else name), (*path, name)
        if isinstance(value, Model):
            yield from _below(value, place, own)
            continue
        kind = _kind(hints[name])
        listed = [((*own, at), one) for at, one in enumerate(value)] if isinstance(value, tuple) else [(own, value)]
        for leaf, one in listed:
            if isinstance(one, Model):
                yield from _below(one, getattr(one, "part", place), leaf)
            elif one is not None and kind:
                yield TypedQuantity(place, one, kind, leaf)


def _kind(hint: object) -> str:
    """The kind of quantity that a field is annotated with, none for names and counts."""
    if isinstance(hint, Kind):
        return hint.id
    return next((kind for kind in map(_kind, get_args(hint)) if kind), "")
