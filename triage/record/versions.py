"""Events out of stored data, whatever version of the program wrote it: lifted to today's shapes, strangers named.

What is stored outlives the shapes of the program. A kind's data is lifted from version to version by an upcaster; a key
of its knowledge that was renamed is read under its new name; a key that nobody knows is left out and named. A kind or
version that is not known at all becomes a `NotUnderstood`: the trace can be shown, and nobody can go on with it.
"""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple, get_args, get_origin

from pydantic import BaseModel

from triage.documents import rebuild
from triage.errors import DocumentFaulty
from triage.record.events import KINDS, Event, NotUnderstood

Data = dict[str, Any]
Shape = object
"""What pydantic knows of a field: a type, a union, or what annotates one."""
Upcaster = Callable[[Data], Data]


def _both_clocks(data: Data) -> Data:
    """Version 1 knew the wall clock alone: it stands for the clock that only goes forward too."""
    return {**data, "clock_ms": data["at_ms"], "boot": 0}


UPCASTERS: Mapping[tuple[str, int], Upcaster] = MappingProxyType({(kind, 1): _both_clocks for kind in KINDS})
"""From a kind's version to the next."""
RENAMED: Mapping[str, Mapping[str, str]] = MappingProxyType({})
"""For each model by its name: keys that it had before, with the names that they have now."""
DROPPED: Mapping[str, frozenset[str]] = MappingProxyType({"Check": frozenset({"substitute"})})
"""For each model by its name: keys that it had before and that nothing ever went by; they are left out unnamed."""


class Understood(NamedTuple):
    """An event, and what of its data was not understood, as paths such as `knowledge.checks.belt-look.colour`."""

    event: Event
    strangers: tuple[str, ...] = ()


def understand(kind: str, version: int, data: Data, *, name: str) -> Understood:
    """Make an event of stored data.

    Args:
        kind: what the line calls it.
        version: of the kind's data.
        data: the line's data, with `at_ms` and `who`.
        name: what faults call it.

    Raises:
        DocumentFaulty: the data lacks what its kind needs, or something in it has another type.
    """
    known = KINDS.get(kind)
    if known is None or version > known.version:
        stamp: Data = {key: data[key] for key in ("at_ms", "who", "clock_ms", "boot") if key in data}
        whole: Data = {"clock_ms": data["at_ms"], "boot": 0, **stamp}
        return Understood(rebuild(NotUnderstood, {**whole, "what": kind, "of_version": version}, name=name))
    for step in range(version, known.version):
        data = UPCASTERS[kind, step](data)
    try:
        return Understood(rebuild(known, data, name=name))
    except DocumentFaulty:
        strangers: list[str] = []
        pruned = _pruned(known, data, "", strangers)
        return Understood(rebuild(known, pruned, name=name), tuple(strangers))


def _pruned(shape: Shape, data: object, path: str, strangers: list[str]) -> object:
    """Data without the keys that its shape does not know."""
    if isinstance(data, dict):
        models = tuple(_models(shape))
        if len(models) == 1:
            return _pruned_model(models[0], data, path, strangers)
        values = _values(shape)
        return {key: _pruned(values, value, f"{path}{key}.", strangers) for key, value in data.items()}
    if isinstance(data, list):
        return [_pruned(shape, each, path, strangers) for each in data]
    return data


def _pruned_model(model: type[BaseModel], data: Data, path: str, strangers: list[str]) -> Data:
    renamed = RENAMED.get(model.__name__, {})
    kept: Data = {}
    for old, value in data.items():
        key = renamed.get(old, old)
        if key in model.model_fields:
            kept[key] = _pruned(model.model_fields[key].annotation, value, f"{path}{key}.", strangers)
        elif old not in DROPPED.get(model.__name__, ()):
            strangers.append(f"{path}{old}")
    return kept


def _values(shape: Shape) -> Shape:
    """What a mapping holds, through unions and what annotates it; None where nobody can tell."""
    if get_origin(shape) is dict:
        return get_args(shape)[1]
    return next((found for part in get_args(shape) if (found := _values(part)) is not None), None)


def _models(shape: Shape) -> Iterator[type[BaseModel]]:
    """The models that a shape may hold, through unions, tuples and what annotates them."""
    if isinstance(shape, type) and issubclass(shape, BaseModel):
        yield shape
        return
    if get_origin(shape) is dict:
        return
    for part in get_args(shape):
        yield from _models(part)
