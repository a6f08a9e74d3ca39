"""Quantities as people type them: one number, a range or a ±, and one unit of the kind that was asked for.

The grammar is closed. Whatever it does not know is refused with a sentence that says what would be right, and what has
two readings is asked back; a reading is never guessed and nothing in it is evaluated.
"""

from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache

from triage.errors import QuantityRefused, QuantityUnclear
from triage.units.bounds import refuse_implausible
from triage.units.catalogue import Kind, Unit
from triage.units.characters import plain
from triage.units.conversion import to_si
from triage.units.naming import find_unit, kind_named, unit_named
from triage.units.numerals import Numeral, value_of
from triage.units.phrases import Phrase, TypedFigure, take_apart


@dataclass(frozen=True)
class Quantity:
    """A physical quantity and how it was typed.

    Args:
        kind: id of its kind.
        value: in the kind's SI unit; the middle of a range.
        spread: half-width of a range or the figure after ±, in the same unit; 0.0 if none was typed.
        unit: label of the unit that was understood.
        assumed: no unit was typed, and the one for a bare number was taken.
        figures: the number as it was typed, with a decimal point; "" where it was a range or has to be worked out.
    """

    kind: str
    value: float
    spread: float
    unit: str
    assumed: bool
    figures: str = field(default="", repr=False, compare=False)


@dataclass(frozen=True)
class _Measured:
    """A quantity still in its typed unit, None for no unit; `lowest` is what must not be negative."""

    unit: Unit | None
    value: Fraction
    spread: Fraction
    lowest: Fraction


@lru_cache(maxsize=4096)
def parse_quantity(text: str, kind: str, bare: str = "") -> Quantity:
    """Read a typed quantity.

    Args:
        text: what a person typed.
        kind: id of the kind that was asked for.
        bare: label of the unit that a bare number takes; the kind's usual one if empty.

    Raises:
        QuantityRefused: not a quantity of this kind; the hint says what would be right.
        QuantityImplausible: nothing of this kind is so small or so large.
        QuantityUnclear: it has two readings; the message asks which is meant.

    >>> parse_quantity("60 rpm", "speed").value
    1.0
    >>> parse_quantity("9-13 s", "time")
    Quantity(kind='time', value=11.0, spread=2.0, unit='s', assumed=False)
    """
    asked = kind_named(kind)
    asked = _taking_bare(asked, bare) if bare else asked
    phrase = take_apart(plain(text), asked)
    measured = _measured(phrase, asked)
    if measured.lowest < 0 and not asked.signed:
        raise QuantityRefused(f"“{phrase.text}” is below zero, which {asked.noun} cannot be.", "Check the sign.")
    unit = measured.unit or asked.units[0]
    value, spread = measured.value, measured.spread
    low, middle, high = (to_si(figure, unit, asked) for figure in (value - spread, value, value + spread))
    if kind == "temperature" and low <= 0:
        raise QuantityRefused(f"“{phrase.text}” is not above absolute zero.", "Check the sign and the unit.")
    refuse_implausible(phrase.text, asked, abs(middle), max(abs(low), abs(high)))
    assumed = measured.unit is None and unit.label != ""
    figures = "" if phrase.second or value < 0 else phrase.first.numeral.as_typed
    return Quantity(kind, float(middle), float((high - low) / 2), unit.label, assumed, figures)


def _taking_bare(kind: Kind, label: str) -> Kind:
    """The kind with another of its units first."""
    first = unit_named(label, kind)
    return replace(kind, units=(first, *(unit for unit in kind.units if unit != first)))


def _measured(phrase: Phrase, kind: Kind) -> _Measured:
    if phrase.second is None:
        return _single(phrase.first, kind)
    if phrase.plus_minus and phrase.second.unit_text.strip() == "%" and kind.id != "number":
        return _percent(phrase.first, phrase.second, kind)
    unit, low, high = _pair(phrase.first, phrase.second, phrase.text, kind)
    if phrase.plus_minus:
        return _Measured(unit, low, high, lowest=low)
    if low >= high:
        raise QuantityRefused(
            f"“{phrase.text}” does not run upwards, and nothing is calculated here.", "Lower end first."
        )
    return _Measured(unit, (low + high) / 2, (high - low) / 2, lowest=low)


def _single(figure: TypedFigure, kind: Kind) -> _Measured:
    unit, thousand = find_unit(figure.unit_text, kind)
    value = _value(figure.numeral, unit, thousand, kind)
    return _Measured(unit, value, Fraction(0), lowest=value)


def _percent(first: TypedFigure, second: TypedFigure, kind: Kind) -> _Measured:
    measured = _single(first, kind)
    if kind.id == "temperature":
        raise QuantityRefused("A percentage of a temperature depends on its zero.", "Write ± in degrees.")
    share = value_of(second.numeral, comma_groups=False, dot_may_group=False) / 100
    return _Measured(measured.unit, measured.value, abs(measured.value) * share, measured.lowest)


def _pair(first: TypedFigure, second: TypedFigure, text: str, kind: Kind) -> tuple[Unit | None, Fraction, Fraction]:
    """Return the one unit of two figures and both values in it."""
    (unit, thousand), (other, other_thousand) = (find_unit(figure.unit_text, kind) for figure in (first, second))
    if unit is not None and other is not None and unit.expression != other.expression:
        raise QuantityRefused(f"“{text}” has two units.", "Write it in one unit.")
    if thousand != other_thousand:
        raise QuantityUnclear(f"Do both figures of “{text}” count thousands?", "Write both numbers in full.")
    shared = unit or other
    low, high = (_value(figure.numeral, shared, thousand, kind) for figure in (first, second))
    return shared, low, high


def _value(numeral: Numeral, unit: Unit | None, thousand: int, kind: Kind) -> Fraction:
    # Before "k" no mark groups thousands without doubt: 2.250k is decimal, 2,250k is asked back.
    bare = thousand == 1
    dot_may_group = bare and (unit or kind.units[0]).grouped
    return thousand * value_of(numeral, comma_groups=bare and kind.grouped, dot_may_group=dot_may_group)
