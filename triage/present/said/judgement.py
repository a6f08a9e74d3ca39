"""How a reading was judged, in words: short at the vehicle, whole on the page."""

from triage.errors import TriageError
from triage.knowledge.models import Knowledge
from triage.present.steps.limits import plain_figure
from triage.record.events import ReadingTaken
from triage.record.readings import Doubt, Verdict
from triage.units import parse_quantity, say_quantity

DIGITS, MOST_DIGITS = 3, 9
ROUNDED = 1e-6
"""What is recorded is rounded: share by which it may differ from what was written."""
DOUBTED: dict[Doubt, str] = {
    "cannot-be": "hardly possible on such a vehicle",
    "beyond-instrument": "beyond what the instrument reads",
    "beyond-stop": "beyond where the steps say to stop",
}


def parts_words(event: ReadingTaken) -> str:
    """What was typed for a reading."""
    return "; ".join(part.text for part in event.parts)


def judged_words(knowledge: Knowledge, event: ReadingTaken) -> str:
    """What a reading came to, as short as it is read beside the vehicle."""
    outcome = knowledge.checks[event.check].outcome(event.outcome)
    if event.apart and not outcome:
        return f"{' and '.join((*event.apart[:-1], parts_words(event)))} do not agree. Measure once more."
    meant = outcome.words[:1].lower() + outcome.words[1:] if outcome else "too close to call"
    again = "" if outcome else ". Measure once more"
    left = f" Not counted: {' and '.join(event.apart)}." if event.apart else ""
    return f"{_value(knowledge, event)}: {meant} ({_limit(knowledge, event)}){again}.{left}"


def _value(knowledge: Knowledge, event: ReadingTaken) -> str:
    """What was typed; and what it comes to, where that is another figure."""
    # Which layout a part was taken from stands in the record.
    typed = " and ".join(event.weighed) or "; ".join(plain_figure(part.text) for part in event.parts)
    if len(event.weighed) < 2 and len(event.parts) == 1:
        return typed
    return f"{typed}: {beside_limit(event.verdict, _kind(knowledge, event.check), _unit(knowledge, event))}"


def _limit(knowledge: Knowledge, event: ReadingTaken) -> str:
    """The nearest limit as it was given, and in the unit that was typed where that is another."""
    kind, verdict = _kind(knowledge, event.check), event.verdict
    own = say_quantity(verdict.limit, kind, _unit(knowledge, event), digits=DIGITS)
    given = _as_given(knowledge, event.check, verdict)
    return (
        f"limit {given} = {own}" if given and _unit_in(given, kind) != _unit_in(own, kind) else f"limit {given or own}"
    )


def _as_given(knowledge: Knowledge, check_id: str, verdict: Verdict) -> str:
    """The words of the limit that was nearest; "" where it is the maker's."""
    reading = knowledge.checks[check_id].reading
    if reading is None or verdict.limit_source.startswith("maker"):
        return ""
    texts = [zone.below.text for zone in reading.zones if zone.below]
    return next((text for text in texts if _says(text, reading.kind, verdict.limit)), "")


def _says(text: str, kind: str, value: float) -> bool:
    try:
        said = parse_quantity(text, kind).value
    except TriageError:
        return False
    return abs(said - value) <= ROUNDED * abs(value)


def _unit(knowledge: Knowledge, event: ReadingTaken) -> str:
    """The unit that was typed; where the reading is worked out of what was typed, that of its limit."""
    kind = _kind(knowledge, event.check)
    if len(event.parts) == 1 and not event.way:
        return _unit_in(event.parts[0].text, kind)
    given = _as_given(knowledge, event.check, event.verdict)
    return _unit_in(given, kind) if given else ""


def _unit_in(text: str, kind: str) -> str:
    """The unit of a text; "" where an edited trace says anything."""
    try:
        return parse_quantity(plain_figure(text), kind).unit
    except TriageError:
        return ""


def _kind(knowledge: Knowledge, check_id: str) -> str:
    reading = knowledge.checks[check_id].reading
    return reading.kind if reading else "number"


def beside_limit(verdict: Verdict, kind: str, unit: str = "") -> str:
    """A value with as many figures as tell it from its limit: 12.55 V beside 12.6 V, not 12.6 V beside 12.6 V."""
    for digits in range(DIGITS, MOST_DIGITS):
        said = say_quantity(verdict.value, kind, unit, digits=digits)
        if said != say_quantity(verdict.limit, kind, unit, digits=digits):
            return said
    return say_quantity(verdict.value, kind, unit)


def verdict_words(knowledge: Knowledge, check_id: str, verdict: Verdict) -> str:
    """Value, uncertainty, the nearest limit with its source, and whether it is settled."""
    kind = _kind(knowledge, check_id)
    source = knowledge.sources.get(verdict.limit_source)
    settled = "settled at 95 %" if verdict.settled else "TOO CLOSE TO CALL"
    given = _as_given(knowledge, check_id, verdict)
    unit = _unit_in(given, kind) if given else ""
    limit = given or say_quantity(verdict.limit, kind, unit, digits=MOST_DIGITS)
    return (
        f"{beside_limit(verdict, kind, unit)}, u = {say_quantity(verdict.uncertainty, kind, unit)}; "
        f"nearest limit {limit} ({source.title if source else verdict.limit_source}), "
        f"margin {_signed(verdict.margin, kind, unit)}; {settled}"
    )


def record_words(event: ReadingTaken) -> str:
    """What the record says of a reading beside its verdict: what it was weighed with, and what stands on a word."""
    weighed = f"weighed together, {' and '.join(event.weighed)}: " if event.weighed else ""
    apart = "" if event.outcome or not event.apart else "does not agree with those before, alone: "
    left = (
        f"not counted, since the others agree: {' and '.join(event.apart)}; " if event.outcome and event.apart else ""
    )
    doubts = "".join(f"asked back and said to be so, {DOUBTED[doubt]}; " for doubt in event.doubts)
    bare = "".join(f"no unit typed, taken as {part.text}; " for part in event.parts if part.bare)
    return f"{bare}{doubts}{left}{weighed}{apart}"


def _signed(value: float, kind: str, unit: str) -> str:
    return f"{'−' if value < 0 else '+'}{say_quantity(abs(value), kind, unit)}"
