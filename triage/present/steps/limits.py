"""The limits of a reading in words, all in one unit: the one that a bare number takes too."""

from triage.errors import TriageError
from triage.knowledge.models import Check, Knowledge, Part, Reading, Way
from triage.record.payloads import MakerFigure
from triage.session.judging import limits_of, times_12_v
from triage.session.state import State
from triage.units import KINDS, parse_quantity, say_quantity

BEFORE_REMARKS = (" (", " from ")
"""What stands between a figure and what was said of it."""


def unit_shown(reading: Reading, state: State) -> str:
    """The unit in which the limits of a reading stand: the maker's where one was entered, else that of the default."""
    for zone in reading.zones:
        maker = state.maker.get(zone.figure or "")
        if maker and unit_of(maker, reading.kind):
            return unit_of(maker, reading.kind)
    below = next((zone.below for zone in reading.zones if zone.below), None)
    return parse_quantity(below.text, reading.kind).unit if below else KINDS[reading.kind].usual


def unit_of(figure: MakerFigure, kind: str) -> str:
    """The unit of a maker's figure as it was entered; "" where its words do not tell."""
    try:
        return parse_quantity(plain_figure(figure.text), kind).unit
    except TriageError:
        return ""


def plain_figure(text: str) -> str:
    """A figure without what was said of it."""
    for mark in BEFORE_REMARKS:
        text = text.partition(mark)[0]
    return text


def bare_unit(reading: Reading, state: State, way: Way, part: Part) -> str:
    """The unit that a bare number takes for a part."""
    judged_itself = way.formula is None and part.kind == reading.kind
    return unit_shown(reading, state) if judged_itself else KINDS[part.kind].usual


def units_of(reading: Reading, state: State) -> str:
    """The units of what is typed first, such as "N or Hz"; empty where a number needs none."""
    units = [bare_unit(reading, state, way, way.parts[0]) for way in reading.ways]
    return " or ".join(filter(None, units))


def say_limits(knowledge: Knowledge, state: State, check: Check) -> list[str]:
    """The limits of a reading, each with its source."""
    reading = check.reading
    if reading is None:
        return []
    unit, lines = unit_shown(reading, state), []
    for zone, limit in zip(reading.zones, limits_of(reading, state), strict=False):
        outcome = check.outcome(zone.outcome)
        maker = state.maker.get(zone.figure or "")
        own = plain_figure(maker.text) if maker else zone.below.text if zone.below else ""
        if not maker and times_12_v(reading, state) > 1:
            own = say_quantity(limit.value, reading.kind, unit)
        text = _in_unit(own, limit.value, reading.kind, unit)
        source = knowledge.sources[limit.source].title if limit.source in knowledge.sources else limit.source
        lines.append(f"Below {text}: {outcome.words if outcome else zone.outcome} ({source})")
    return lines


def _in_unit(own: str, value: float, kind: str, unit: str) -> str:
    """A limit as it was given, and first in the unit of the others where that is another."""
    try:
        same = parse_quantity(own, kind).unit == unit
    except TriageError:
        return say_quantity(value, kind, unit)
    return own if same else f"{say_quantity(value, kind, unit)} ({own})"
