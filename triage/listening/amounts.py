"""Numbers and quantities in running text, as their grammar takes them."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

from triage.errors import TriageError
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
_ONES: Final = "|".join(word for word in _UNITS if word != "one") + (
    "|one(?= (?:point|and a half|[a-z]*volt|sec|milli|inch|newton|degree|hertz))"  # else it is a thing: "the other one"
)
_WORDS: Final = re.compile(
    rf"\b(?:(?:{'|'.join(_TENS)})(?:[ -](?:{'|'.join(_UNITS[1:10])}))?|{_ONES})\b", re.IGNORECASE
)
_HALF: Final = re.compile(r"\bhalf an? (?=sec|newton|volt|mil|inch|degree)", re.IGNORECASE)
_AND_HALF: Final = re.compile(r"(?<=[0-9]) and a half\b", re.IGNORECASE)
_POINT: Final = re.compile(r"(?<=[0-9]) point (?=[0-9])", re.IGNORECASE)
_RANGE: Final = re.compile(r"\b(?:between|from) $", re.IGNORECASE)
_DECIMAL: Final = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_NEXT: Final = re.compile(r" ?([^\W\d_]+|[°%])")
_UNIT_WORDS: Final = {
    name.casefold() for kind in KINDS.values() for unit in kind.units for name in (*unit.names, *unit.symbols)
} - {"a", "in", "h", "m", "s", "u", "c", "f", "k", "n"}
"""Spellings of every unit, but for those that are words and letters of their own."""
_MOST: Final = 12
"""Numbers of a text that are looked at: no reading has more than six parts."""
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
    for number in islice(_NUMBER.finditer(text), _MOST):
        if found and number.start() < found[-1].end:
            continue
        lead = _RANGE.search(text[: number.start()])
        starts = (*((lead.start(),) if lead else ()), number.start())
        amount = next((one for start in starts for one in _spellings(text, start, kind, bare)), None)
        if amount:
            found.append(amount)
    return tuple(found)


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
