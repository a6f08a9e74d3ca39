"""A saved session as far as it can be relied on, for those who only read it."""

from pathlib import Path
from typing import NamedTuple

from triage.app.job import Replayed
from triage.app.sound import ORIGINAL, told, unsafe_notices
from triage.app.tracing import read_sound_events
from triage.errors import TraceDamaged
from triage.store import Head, read_sound


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
