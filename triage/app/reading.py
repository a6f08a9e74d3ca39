"""A saved session, for those who only read it: whole, or as far as it can be relied on."""

from pathlib import Path
from typing import NamedTuple

from triage.app.sound import ORIGINAL, knowledge_of, told, unsafe_notices
from triage.app.tracing import read_events, read_sound_events
from triage.errors import TraceDamaged
from triage.knowledge.models import Knowledge
from triage.record.events import Event
from triage.store import Head, read_sound, read_trace


class Replayed(NamedTuple):
    """A trace as it was read; `notices` is what a reader should know about it first."""

    knowledge: Knowledge
    events: tuple[Event, ...]
    head: Head
    notices: tuple[str, ...]


def replay(path: Path) -> Replayed:
    """Read a trace without taking it up.

    Raises:
        TraceDamaged: the trace does not hold together.
    """
    trace = read_trace(path)
    events, strange = read_events(trace.lines, trace.knowledge)
    knowledge = knowledge_of(events, path)
    return Replayed(knowledge, events, trace.head, (*trace.notices, *strange, *unsafe_notices(events)))


class SoundPart(NamedTuple):
    """What can be read of a trace, and what is wrong with the first line that cannot; "" where nothing is."""

    replayed: Replayed
    damage: str


def read_sound_part(path: Path) -> SoundPart:
    """Read a trace up to its first bad line, and change nothing.

    Raises:
        TraceDamaged: not even its beginning can be relied on.
        StoreUnavailable: it cannot be read.
    """
    trace, damage = read_sound(path)
    (events, strange), misshapen = read_sound_events(trace.lines, trace.knowledge)
    if misshapen and not events:
        raise misshapen
    knowledge, lines, stranger = told(events, path)
    damage = stranger or (misshapen.message if misshapen else damage)
    if not lines:
        raise TraceDamaged(f"{path.name} is damaged. {damage}", ORIGINAL)
    first = _shown(damage, lines) if damage else unsafe_notices(events)
    notices = (*first, *trace.notices, *strange)
    return SoundPart(Replayed(knowledge, events[:lines], Head(lines, trace.digests[lines - 1]), notices), damage)


def _shown(damage: str, lines: int) -> tuple[str, ...]:
    shown = f"the {lines} lines" if lines > 1 else "the one line"
    return (f"This trace is damaged. {damage} Only {shown} before that can be shown.",)
