"""Events as lines of a trace, and back."""

from collections.abc import Iterable, Sequence

from triage.documents import rebuild
from triage.errors import DocumentFaulty, TraceDamaged
from triage.session.events import KINDS, Event
from triage.store import Line


def to_lines(events: Iterable[Event], first_seq: int) -> list[Line]:
    """Lines for events, numbered from `first_seq`."""
    return [
        Line(
            seq=first_seq + index,
            at_ms=event.at_ms,
            who=event.who,
            kind=event.kind,
            version=event.version,
            data=event.model_dump(mode="json", exclude={"at_ms", "who"}),
        )
        for index, event in enumerate(events)
    ]


def to_events(lines: Sequence[Line]) -> tuple[Event, ...]:
    """Events out of lines.

    Raises:
        TraceDamaged: a kind, version or shape of event that this program does not know.
    """
    return tuple(_event(line) for line in lines)


def _event(line: Line) -> Event:
    kind = KINDS.get(line.kind)
    if kind is None or line.version not in (1, kind.version):
        raise TraceDamaged(
            f'Line {line.seq} holds "{line.kind}" in version {line.version}, which this program does not know.',
            "Read the trace with a newer program; nothing in it was changed.",
        )
    try:
        stamp = {"at_ms": line.at_ms, "who": line.who}
        if line.version == 1:
            stamp |= {"clock_ms": line.at_ms, "boot": 0}
        return rebuild(kind, {**stamp, **line.data}, name=f"line {line.seq}")
    except DocumentFaulty as fault:
        raise TraceDamaged(
            f"Line {line.seq} does not have the shape of its kind: {fault.faults[0].message}",
            "Ask for the original; nothing in it was changed.",
        ) from fault
