"""A typed quantity taken apart: one figure, a range between two, or a figure with a ±; units not yet looked up."""

import re
from dataclasses import dataclass

from triage.errors import QuantityRefused, QuantityUnclear
from triage.units.catalogue import Kind
from triage.units.numerals import Numeral, take_numeral

_HEDGE = re.compile(r"^(?:about|approximately|approx\.?|around|roughly|circa|ca\.?|~) ?", re.IGNORECASE)
_LEAD = re.compile(r"(between|from) ", re.IGNORECASE)
_LIMIT = re.compile(
    r"(?:[<>=]|(?:up to|less than|more than|over|under|above|below|at least|at most|min|max)\b)", re.IGNORECASE
)
_JOINED = re.compile(
    r"(?P<unit>[^0-9]*?) ?(?P<join>\.{2,3}|…|±|\+/-|\+-|-|(?<![a-z])(?:to|and)(?![a-z])) ?(?P<tail>[+-]?[.,]?[0-9].*)",
    re.IGNORECASE,
)
# Not str.isdigit, which takes the ² of kg·m² for a figure.
_HAS_FIGURE = re.compile("[0-9]")
_PLUS_MINUS = frozenset({"±", "+/-", "+-"})


@dataclass(frozen=True)
class TypedFigure:
    """One typed number with the text of the unit right behind it."""

    numeral: Numeral
    unit_text: str


@dataclass(frozen=True)
class Phrase:
    """A typed quantity.

    Args:
        text: all of it, for sentences.
        first: the only figure, the lower end of a range, or the figure before a ±.
        second: the upper end, or the figure after a ±; None for a single figure.
        plus_minus: the second figure follows a ±.
    """

    text: str
    first: TypedFigure
    second: TypedFigure | None = None
    plus_minus: bool = False


def take_apart(text: str, kind: Kind) -> Phrase:
    """Return the parts of a plain text.

    Raises:
        QuantityRefused: it does not start with a number, or is more than one quantity.
    """
    body = _HEDGE.sub("", text)
    lead = _LEAD.match(body)
    started = take_numeral(body[lead.end() :] if lead else body)
    if started is None:
        raise _no_number(text, body, kind)
    numeral, rest = started
    if _HAS_FIGURE.search(rest):
        return _joined(text, numeral, rest, lead[1].lower() if lead else "")
    if lead:
        raise QuantityRefused(f"“{text}” names only one end of a range.", "Write both ends, such as 9 to 13.")
    return Phrase(text, TypedFigure(numeral, rest))


def _joined(text: str, numeral: Numeral, rest: str, lead: str) -> Phrase:
    joined = _JOINED.fullmatch(rest)
    ended = take_numeral(joined["tail"]) if joined else None
    if joined is None or ended is None or _HAS_FIGURE.search(ended[1]):
        raise _several(text)
    if joined.group().startswith("..") and not joined.group().startswith("..."):
        whole, rest = text.split("..", 1)
        meant = f"{whole}.{rest}, or from {whole} to {rest}"
        raise QuantityUnclear(f"“{text}” can be read two ways: {meant}?", "Type the one that is meant.")
    word, second = joined["join"].lower(), TypedFigure(*ended)
    if not _fits(word, lead, numeral, second.numeral):
        raise _several(text)
    return Phrase(text, TypedFigure(numeral, joined["unit"]), second, word in _PLUS_MINUS)


def _fits(word: str, lead: str, first: Numeral, second: Numeral) -> bool:
    """Tell whether the joining word goes with the word before and with the signs: -5-5 and 5 ± -1 are no quantities."""
    if (word == "and") != (lead == "between"):
        return False
    if word in _PLUS_MINUS:
        return not lead and not second.signed
    return word != "-" or (first.sign > 0 and not second.signed)


def _no_number(text: str, body: str, kind: Kind) -> QuantityRefused:
    example = f"Write {kind.noun} as a number and a unit, such as {f'5 {kind.usual}'.strip()}."
    if _LIMIT.match(body):
        return QuantityRefused(f"“{text}” is a limit, not a reading.", "Type what was measured, or a range.")
    if _HAS_FIGURE.search(text):
        return QuantityRefused(f"“{text}” does not start with a number.", example)
    return QuantityRefused(f"There is no number in “{text}”." if text else "Nothing was typed.", example)


def _several(text: str) -> QuantityRefused:
    return QuantityRefused(
        f"“{text}” is more than one number with one unit, and nothing is calculated here.",
        "Type one reading in one unit, or a range such as 9 to 13.",
    )
