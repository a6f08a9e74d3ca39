"""Conversion between the units of one kind: by the table of units, and by the unit library for what the table lacks."""

from fractions import Fraction
from functools import lru_cache

from triage.units.catalogue import Kind, Unit
from triage.units.factors import FACTORS
from triage.units.library import factor_of


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
    row = FACTORS.get((expression, target))
    return (Fraction(row[0]), Fraction(row[1])) if row else factor_of(expression, target)
