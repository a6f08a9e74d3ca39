"""Quantities back into words: rounded for people, and said back as they were understood."""

import math
from fractions import Fraction

from triage.units.catalogue import Kind, Unit
from triage.units.conversion import from_si
from triage.units.naming import kind_named, unit_named
from triage.units.numerals import MAY_GROUP
from triage.units.quantities import Quantity

_TYPED_DIGITS = 6
"""Said back in the unit that was typed, a reading keeps more figures than any instrument of the bay shows."""
_SMALLEST_WRITTEN_OUT = 1e-6


def say_quantity(value: float, kind: str, unit: str = "", *, digits: int = 3) -> str:
    """Write an SI value for people.

    Args:
        value: in the kind's SI unit.
        kind: id of the kind.
        unit: label or spelling of the unit to write it in; the kind's usual one if empty.
        digits: significant figures; those before the decimal mark are never rounded away.

    Raises:
        QuantityRefused: the kind has no such unit.

    >>> say_quantity(1.5, "torque")
    '1.5 N·m'
    """
    asked = kind_named(kind)
    chosen = unit_named(unit, asked) if unit else asked.units[0]
    return _with_unit(_figures(_in_unit(value, chosen, asked), digits, chosen), chosen)


def say_back(quantity: Quantity) -> str:
    """Write a typed quantity as it was understood: in its unit, in the usual one too, and whether that was assumed.

    >>> from triage.units import parse_quantity
    >>> say_back(parse_quantity("9", "torque"))
    '9 N·m (no unit typed: N·m taken)'
    """
    kind = kind_named(quantity.kind)
    typed, usual = unit_named(quantity.unit, kind), kind.units[0]
    said = _say_in(quantity, typed, kind, _TYPED_DIGITS)
    if quantity.assumed:
        return f"{said} (no unit typed: {usual.label} taken)"
    return said if typed.expression == usual.expression else f"{said} ({_say_in(quantity, usual, kind, 3)})"


def say_typed(quantity: Quantity) -> str:
    """Write a typed quantity in the unit that it was typed in, with its figures as typed.

    >>> from triage.units import parse_quantity
    >>> say_typed(parse_quantity("12,50 volts", "voltage")), say_typed(parse_quantity('1/16"', "length"))
    ('12.50 V', '1/16 in')
    """
    kind = kind_named(quantity.kind)
    unit = unit_named(quantity.unit, kind)
    return _with_unit(quantity.figures, unit) if quantity.figures else _say_in(quantity, unit, kind, _TYPED_DIGITS)


def _say_in(quantity: Quantity, unit: Unit, kind: Kind, digits: int) -> str:
    figures = _figures(_in_unit(quantity.value, unit, kind), digits, unit)
    if quantity.spread:
        width = _in_unit(quantity.value + quantity.spread, unit, kind) - _in_unit(quantity.value, unit, kind)
        figures = f"{figures} ± {_figures(width, min(digits - 1, 3), unit)}"
    return _with_unit(figures, unit)


def _in_unit(value: float, unit: Unit, kind: Kind) -> float:
    return float(from_si(Fraction(value), unit, kind))


def _with_unit(figures: str, unit: Unit) -> str:
    return f"{figures}{unit.label}" if unit.label in {"°", "′", ""} else f"{figures} {unit.label}"


def _figures(value: float, digits: int, unit: Unit) -> str:
    """Write a number with so many significant figures, closing noughts left out, so that it has one reading."""
    if value == 0:
        return "0"
    if abs(value) < _SMALLEST_WRITTEN_OUT:
        return f"{value:.{digits - 1}e}".replace("-", "−", 1 if value < 0 else 0)
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    written = f"{value:.{decimals}f}"
    if "." in written:
        written = written.rstrip("0").rstrip(".")
    if unit.grouped and MAY_GROUP.fullmatch(written.lstrip("-")):
        written += "0"
    return written.replace("-", "−")
