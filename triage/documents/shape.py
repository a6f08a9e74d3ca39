"""What a model expects at some depth, found by walking its annotations along the location that pydantic gives an error.

Such a location is almost the path into the data. Where an annotation is a union, pydantic puts the name of the branch
between, and only the annotation tells a branch from a key of the same name.
"""

from collections.abc import Iterator, Sequence
from types import NoneType, UnionType
from typing import Annotated, Union, get_args, get_origin

from pydantic import BaseModel, RootModel
from pydantic.fields import FieldInfo

from triage.documents.document import Step, Steps


def path_of(model: type[BaseModel], location: Sequence[Step]) -> Steps:
    """Strip the names of branches from a location, which leaves the path into the data."""
    return _walk(model, location)[0]


def keys_known_at(model: type[BaseModel], location: Sequence[Step]) -> tuple[str, ...]:
    """Name the keys that may stand in the mapping at a location, none where it is no model."""
    members = _walk(model, location)[1]
    return tuple(dict.fromkeys(key for member in members for key in _fields(member)))


def _walk(model: type[BaseModel], location: Sequence[Step]) -> tuple[Steps, list[object]]:
    path: list[Step] = []
    members = list(_members(model))
    for step in location:
        if len(members) > 1:
            members = [member for member in members if _goes_by(member, step)] or members
        else:
            members = [below for member in members for below in _below(member, step)]
            path.append(step)
    return tuple(path), members


def _members(annotation: object) -> Iterator[object]:
    """Take off what adds no depth: annotations, the branches of a union, nothing, and a root."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _members(get_args(annotation)[0])
    elif origin in (Union, UnionType):
        for branch in get_args(annotation):
            yield from _members(branch)
    elif isinstance(annotation, type) and issubclass(annotation, RootModel):
        yield from _members(annotation.model_fields["root"].annotation)
    elif annotation is not NoneType:
        yield annotation


def _below(member: object, step: Step) -> Iterator[object]:
    arguments = get_args(member)
    if isinstance(step, str):
        field = _fields(member).get(step)
        inside = field.annotation if field else arguments[-1] if arguments else None
    elif step < len(arguments) and Ellipsis not in arguments:
        inside = arguments[step]
    else:
        inside = arguments[0] if arguments else None
    if inside is not None:
        yield from _members(inside)


def _fields(member: object) -> dict[str, FieldInfo]:
    if not isinstance(member, type) or not issubclass(member, BaseModel):
        return {}
    return member.model_fields


def _goes_by(member: object, label: Step) -> bool:
    """Tell whether a union calls this branch by a label: its type's name, or the tag that one of its fields allows."""
    name = getattr(get_origin(member) or member, "__name__", None)
    return name == str(label).partition("[")[0] or any(
        label in get_args(field.annotation) for field in _fields(member).values()
    )
