"""The unit library: the only place that knows it, and what the table of units is made from and held against.

It costs more to load than all the rest of a start, so nothing that the table has waits for it. It is given only
expressions from the catalogue, never typed text. Its registry computes in exact fractions.
"""

from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from triage.units.factors import FACTORS

if TYPE_CHECKING:
    import pint


def factor_of(expression: str, target: str) -> tuple[Fraction, Fraction]:
    """Return what to multiply by and what to add; every unit in the catalogue converts along a straight line.

    Args:
        expression: a unit in the words of the library.
        target: the unit that is wanted, likewise.
    """
    registry = _registry()
    at_zero, at_one = (registry.Quantity(Fraction(figure), expression).to(target).magnitude for figure in (0, 1))
    return at_one - at_zero, at_zero


def differing() -> tuple[tuple[str, str], ...]:
    """Name the rows of the table for which the library, as it is installed here, has other figures."""
    return tuple(row for row in FACTORS if _floats(map(Fraction, FACTORS[row])) != _floats(factor_of(*row)))


def _floats(figures: Iterable[Fraction]) -> tuple[float, ...]:
    """Figures as they come out in the end; how many digits of π a library knows is no difference."""
    return tuple(map(float, figures))


@lru_cache(maxsize=1)
def _registry() -> "pint.UnitRegistry[Any]":
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)
