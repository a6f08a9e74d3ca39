"""Events as lines of a trace, and back."""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from triage.errors import DocumentFaulty, TraceDamaged
from triage.knowledge.models import Knowledge
from triage.record.events import Event, NotUnderstood, SessionStarted, StepOffered
from triage.record.versions import Understood, understand
from triage.store import Line, digest_of_knowledge


def to_lines(events: Iterable[Event], first_seq: int) -> list[Line]:
    """Lines for events, numbered from `first_seq`."""
    return [
        Line(
            seq=first_seq + index,
            at_ms=event.at_ms,
            who=event.who,
            kind=event.kind,
            version=event.version,
            data=_data(event),
        )
        for index, event in enumerate(events)
    ]


def stored(knowledge: Knowledge) -> bytes:
    """Knowledge as it is stored, for a digest to name: JSON as UTF-8, in the author's order."""
    return knowledge.model_dump_json().encode()


def _data(event: Event) -> dict[str, object]:
    if isinstance(event, SessionStarted) and event.format > 1:
        named = {"sha256": digest_of_knowledge(stored(event.knowledge))}
        return {**event.model_dump(mode="json", exclude={"at_ms", "who", "knowledge"}), "knowledge": named}
    silent = {name for name in event.later if not getattr(event, name)}
    data = event.model_dump(mode="json", exclude={"at_ms", "who", *silent})
    if isinstance(event, StepOffered):
        # Most of a step's fields say nothing most of the time, and steps are the commonest lines of a trace.
        data["step"] = event.step.model_dump(mode="json", exclude_defaults=True)
    return data


SHOWN = 5
"""How many strangers of a line are named."""


class Read(NamedTuple):
    """What the lines of a trace say; `notices` names what of it was not understood, a sentence a line."""

    events: tuple[Event, ...]
    notices: tuple[str, ...]


def to_events(lines: Sequence[Line], knowledge: bytes = b"") -> tuple[Event, ...]:
    """Events out of lines, as `read_events` has them."""
    return read_events(lines, knowledge).events


def read_events(lines: Sequence[Line], knowledge: bytes = b"") -> Read:
    """Events out of lines of any version, and what of them was not understood.

    Args:
        lines: of a trace.
        knowledge: what its first line names, as stored; empty where it stands in the line itself.

    Raises:
        TraceDamaged: an event lacks what its kind needs, or something in it has another type.
    """
    read, damage = read_sound_events(lines, knowledge)
    if damage:
        raise damage
    return read


def read_sound_events(lines: Sequence[Line], knowledge: bytes = b"") -> tuple[Read, TraceDamaged | None]:
    """The same, up to the first line that has no shape of an event, and what is wrong with that one."""
    whole = {"knowledge": json.loads(knowledge)} if knowledge else {}
    events: list[Event] = []
    notices: list[str] = []
    for line in lines:
        data = {**line.data, **whole} if line.kind == SessionStarted.kind else line.data
        try:
            found = _event(replace(line, data=data))
        except TraceDamaged as damage:
            return Read(tuple(events), tuple(notices)), damage
        events.append(found.event)
        notices += _not_understood(line, found)
    return Read(tuple(events), tuple(notices)), None


def _not_understood(line: Line, found: Understood) -> Iterator[str]:
    if isinstance(found.event, NotUnderstood):
        yield f'Line {line.seq} holds "{line.kind}" in version {line.version}, which this program does not know.'
    elif found.strangers:
        shown = ", ".join(found.strangers[:SHOWN])
        more = f" and {len(found.strangers) - SHOWN} more" if len(found.strangers) > SHOWN else ""
        yield f"Line {line.seq} says what this program does not know, and leaves out: {shown}{more}."


def _event(line: Line) -> Understood:
    try:
        stamp = {"at_ms": line.at_ms, "who": line.who}
        return understand(line.kind, line.version, {**stamp, **line.data}, name=f"line {line.seq}")
    except DocumentFaulty as fault:
        raise TraceDamaged(
            f"Line {line.seq} does not have the shape of its kind: {fault.faults[0].message}",
            "Ask for the original; nothing in it was changed.",
        ) from fault
