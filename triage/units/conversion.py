"""Conversion between the units of one kind: the only place that knows the unit library.

The library costs a quarter of a second to load, so it is loaded at the first conversion that needs it, and is given
only expressions from the catalogue, never typed text. Its registry computes in exact fractions.
"""

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from triage.units.catalogue import Kind, Unit

if TYPE_CHECKING:
    import pint


def to_si(value: Fraction, unit: Unit, kind: Kind) -> Fraction:
    """Return a value in a unit of a kind as that kind's SI value."""
    scale, offset = _scale(unit.expression, kind.expression)
    return value * scale + offset


def from_si(value: Fraction, unit: Unit, kind: Kind) -> Fraction:
    """Return a kind's SI value in one of its units."""
    scale, offset = _scale(unit.expression, kind.expression)
    return (value - offset) / scale


@lru_cache
def _scale(expression: str, target: str) -> tuple[Fraction, Fraction]:
    """Return what to multiply by and what to add; every unit in the catalogue converts along a straight line."""
    if expression == target:
        return Fraction(1), Fraction(0)
    registry = _registry()
    at_zero, at_one = (registry.Quantity(Fraction(figure), expression).to(target).magnitude for figure in (0, 1))
    return at_one - at_zero, at_zero


@lru_cache(maxsize=1)
def _registry() -> "pint.UnitRegistry[Any]":
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)
