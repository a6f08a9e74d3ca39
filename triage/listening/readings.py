"""Readings in a sentence: quantities as their grammar takes them, given to the parts of a check."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from triage.errors import TriageError
from triage.knowledge.models import Check, Part, Way
from triage.listening.hearing import Heard
from triage.listening.items import Reading
from triage.units import KINDS, Quantity, parse_quantity

_NUMBER: Final = re.compile(r"(?<![\w.,])[-−]?\.?[0-9]")
_STEPS: Final = re.compile(r"\s*(?:[0-9]+(?:[.,/][0-9]+)*|[^\W\d_]+|\S)")
_UNITS: Final = (
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
_TENS: Final = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_NUMBERS: Final = {word: value for value, word in enumerate(_UNITS)} | {
    word: 10 * value for value, word in enumerate(_TENS, start=2)
}
_ONES: Final = "|".join(_UNITS)
_WORDS: Final = re.compile(
    rf"\b(?:(?:{'|'.join(_TENS)})(?:[ -](?:{'|'.join(_UNITS[1:10])}))?|{_ONES})\b", re.IGNORECASE
)
_HALF: Final = re.compile(r"\bhalf an? (?=sec|newton|volt|mil|inch|degree)", re.IGNORECASE)
_AND_HALF: Final = re.compile(r"(?<=[0-9]) and a half\b", re.IGNORECASE)
_POINT: Final = re.compile(r"(?<=[0-9]) point (?=[0-9])", re.IGNORECASE)
_RANGE: Final = re.compile(r"\b(?:between|from) $", re.IGNORECASE)
_LIMITS: Final = [[word] for word in ("over", "under", "above", "below", "than", "least", "max", "minimum", "maximum")]
"""Words behind which a number is a limit and no reading."""
_DECIMAL: Final = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_NEXT: Final = re.compile(r" ?([^\W\d_]+|[°%])")
_UNIT_WORDS: Final = {
    name.casefold() for kind in KINDS.values() for unit in kind.units for name in (*unit.names, *unit.symbols)
} - {"a", "in", "h", "m", "s", "u", "c", "f", "k", "n"}
"""Spellings of every unit, but for those that are words and letters of their own."""
_LONGEST: Final = 7
"""Pieces of a text that one quantity may have: "between 9 and 13 lbf in" has six behind its first."""


@dataclass(frozen=True)
class Amount:
    """One quantity that was typed, and where it stands in the text."""

    quantity: Quantity
    start: int
    end: int


def in_figures(text: str) -> str:
    """A text with its numbers in figures.

    >>> in_figures("twelve point four volts, half a second")
    '12.4 volts, 0.5 second'
    """
    figures = _WORDS.sub(lambda found: str(_value(found.group())), text)
    return _POINT.sub(".", _AND_HALF.sub(".5", _HALF.sub("0.5 ", figures)))


def _value(words: str) -> int:
    return sum(_NUMBERS[word] for word in re.split(r"[ -]", words.lower()))


def one_decimal(text: str) -> bool:
    """Whether a text has one number alone, and that a decimal one: nobody counts tries or parts in tenths.

    >>> one_decimal("13.8 on the dot"), one_decimal("2 of them"), one_decimal("0.15 here, 0.3 there")
    (True, False, False)
    """
    numbers = _DECIMAL.findall(in_figures(text))
    return len(numbers) == 1 and not numbers[0].isdigit()


def amounts(text: str, kind: str, bare: str = "") -> tuple[Amount, ...]:
    """Every quantity of one kind in a text, the longest spelling of each.

    >>> [round(one.quantity.value, 4) for one in amounts("2 mm over 250 mm", "length")]
    [0.002, 0.25]
    """
    found: list[Amount] = []
    for number in _NUMBER.finditer(text):
        if found and number.start() < found[-1].end:
            continue
        lead = _RANGE.search(text[: number.start()])
        starts = (*((lead.start(),) if lead else ()), number.start())
        amount = next((one for start in starts for one in _spellings(text, start, kind, bare)), None)
        if amount:
            found.append(amount)
    return tuple(found)


def reading_of(check: Check, heard: Heard, *, bare: bool) -> Reading | None:
    """The reading of a check in a sentence, or nothing where it has none or more than one.

    Args:
        check: what was measured.
        heard: the sentence.
        bare: whether a number without a unit may be the reading.
    """
    if check.reading is None or not heard.sentence.words:
        return None
    text = in_figures(heard.typed)
    fitting = [taken for way in check.reading.ways if (taken := _by_way(check, way, text, bare=bare))]
    most = max((len(taken) for taken in fitting), default=0)
    fitting = [taken for taken in fitting if len(taken) == most]
    if len(fitting) != 1:
        return None
    taken = fitting[0]
    return Reading(check.id, tuple(one.quantity.value for one in taken), text[taken[0].start : taken[-1].end])


def unit_of_limits(check: Check) -> str:
    """The unit in which the limits of a reading stand: a bare number takes it."""
    below = next((zone.below for zone in check.reading.zones if zone.below), None) if check.reading else None
    if check.reading is None or below is None:
        return ""
    return parse_quantity(below.text, check.reading.kind).unit


def _by_way(check: Check, way: Way, text: str, *, bare: bool) -> tuple[Amount, ...]:
    """What a text gives to the parts of one way, in order; nothing where it does not fit or gives too much."""
    taken: list[Amount] = []
    for part in way.parts:
        rest = taken[-1].end if taken else 0
        own = way.formula is None and check.reading is not None and part.kind == check.reading.kind
        unit = unit_of_limits(check) if own else ""
        there = [one for one in amounts(text[rest:], part.kind, unit) if _fits(part, one)]
        if not taken:
            there = _meant(there, text, bare=bare, alone=len(way.parts) == 1)
        if not there:
            break
        taken.append(Amount(there[0].quantity, there[0].start + rest, there[0].end + rest))
    return tuple(taken)


def _meant(there: list[Amount], text: str, *, bare: bool, alone: bool) -> list[Amount]:
    """The amounts that may be the first part: said with a unit, or bare where nothing else is; no limits.

    Where the part stands alone there is one, and a whole number without a unit beside it counts tries or parts.
    """
    there = [one for one in there if text[: one.start].lower().split()[-1:] not in _LIMITS]
    named = [one for one in there if not one.quantity.assumed]
    if not alone:
        return there if bare or (named and (there[0] in named or len(there) > 1)) else []
    if named:
        others = [one for one in there if one.quantity.assumed and "." in one.quantity.figures]
        return named if len(named) == 1 and not others else []
    return there if bare and len(there) == 1 else []


def _fits(part: Part, amount: Amount) -> bool:
    """Whether a quantity can be this part: of a size that a vehicle of this kind has."""
    value = abs(amount.quantity.value)
    least = parse_quantity(part.least.text, part.kind).value if part.least else 0.0
    most = parse_quantity(part.most.text, part.kind).value if part.most else value
    return least <= value <= most


def _spellings(text: str, start: int, kind: str, bare: str) -> Iterator[Amount]:
    """The quantities that begin at a place, the longest first."""
    ends = [start + end for end in _ends(text[start:])]
    for end in reversed(ends):
        try:
            quantity = parse_quantity(text[start:end], kind, bare)
        except TriageError:
            continue
        if not (quantity.assumed and _followed(text, end)):
            yield Amount(quantity, start, end)


def _followed(text: str, end: int) -> bool:
    """Whether a number is followed by a unit, one of another kind: "0.5 degrees" is no bare number."""
    behind = _NEXT.match(text, end)
    return behind is not None and behind[1].casefold() in _UNIT_WORDS


def _ends(text: str) -> Sequence[int]:
    """Where a quantity at the start of a text may end."""
    ends: list[int] = []
    at = 0
    while len(ends) < _LONGEST and (found := _STEPS.match(text, at)):
        at = found.end()
        ends.append(at)
    return ends
