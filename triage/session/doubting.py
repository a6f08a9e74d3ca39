"""What is odd about a reading in itself: no vehicle has it, its instrument does not read it, or the steps say to stop.

Nothing is refused for it, since the figures are from memory and the vehicle is not: a face asks back before it gives
the command, and the record says that it stood by the word of whoever typed it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from triage.knowledge.models import Check, Figure, Knowledge, Part, Way
from triage.record.readings import Doubt, TypedPart
from triage.session.judging import Judged, way_of
from triage.units import parse_quantity

SAME = 1e-9
"""Share by which a reading may differ from a bound and still lie on it."""


@dataclass(frozen=True)
class Doubted:
    """One doubt.

    Args:
        doubt: which.
        bound: the figure beyond which the reading lies.
        over: whether it lies above it.
        part: the part of the reading; None for what comes out of its formula.
        tool: the instrument, where that does not read so far.
    """

    doubt: Doubt
    bound: Figure
    over: bool
    part: TypedPart | None = None
    tool: str = ""


def doubts_of(knowledge: Knowledge, check: Check, parts: tuple[TypedPart, ...], found: Judged) -> tuple[Doubted, ...]:
    """Every doubt about a whole reading."""
    reading = check.reading
    way = way_of(reading, parts) if reading else None
    if reading is None or way is None:
        return ()
    doubts = [one for part, typed in zip(way.parts, parts, strict=True) for one in of_part(knowledge, way, part, typed)]
    if reading.most and _beyond(found.by_itself.value, reading.most, reading.kind, over=True):
        doubts.append(Doubted("cannot-be", reading.most, over=True))
    return tuple(doubts)


def of_part(knowledge: Knowledge, way: Way, part: Part, typed: TypedPart) -> Iterator[Doubted]:
    """The doubts about one part; none where it was taken from somewhere else or stands on a sheet."""
    if typed.source:
        return
    if not can_be(part, typed.value):
        high = part.most is not None and _beyond(typed.value, part.most, part.kind, over=True)
        bound = part.most if high else part.least
        if bound:
            yield Doubted("cannot-be", bound, over=high, part=typed)
    if part.stop and _beyond(typed.value, part.stop, part.kind, over=True):
        yield Doubted("beyond-stop", part.stop, over=True, part=typed)
    tool = None if part.as_typed else knowledge.tools.get(part.instrument or way.instrument)
    if tool is None or typed.value == 0 or not _reads(tool.measures, part.kind):
        return
    for bound, over in ((tool.reads_from, False), (tool.reads_to, True)):
        if bound and _beyond(typed.value, bound, part.kind, over=over):
            yield Doubted("beyond-instrument", bound, over=over, part=typed, tool=tool.id)


def can_be(part: Part, value: float) -> bool:
    """Whether a vehicle may well have this value [SI]."""
    low = part.least is not None and _beyond(value, part.least, part.kind, over=False)
    return not low and not (part.most is not None and _beyond(value, part.most, part.kind, over=True))


def _reads(measures: str | None, kind: str) -> bool:
    return measures == kind or (measures, kind) == ("length", "position")


def _beyond(value: float, bound: Figure, kind: str, *, over: bool) -> bool:
    """Whether a value lies beyond a bound, whatever its sign: which way round leads hang is another question."""
    end = parse_quantity(bound.text, kind).value
    return abs(value) > end * (1 + SAME) if over else abs(value) < end * (1 - SAME)
