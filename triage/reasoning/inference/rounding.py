"""The border of the reasoning: a figure is rounded here once, and only then recorded, compared or put in order.

The last bits of a sum depend on the processor that adds it up. So nothing is chosen by them: equal figures are equal
everywhere, and what is equal stands in the author's order.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.reasoning.inference.network import Numbers

PROBABILITY_PLACES = 4
"""Decimals of a probability as it is recorded."""
COMPARED_PLACES = 9
"""Decimals to which figures are compared inside a search, where nobody reads them."""
FACTOR_DIGITS = 3


def recorded(figure: float, places: int = PROBABILITY_PLACES) -> float:
    """A figure as it is recorded and put in order.

    >>> recorded(0.81274999999999), recorded(-0.00001)
    (0.8127, 0.0)
    """
    return round(float(figure), places) + 0.0


def recorded_factor(factor: float) -> float:
    """The same for what a finding does to odds, whose size alone matters.

    >>> recorded_factor(123456.7), recorded_factor(0.00012345)
    (123000.0, 0.000123)
    """
    return float(f"{factor:.{FACTOR_DIGITS}g}")


def even(figure: float) -> float:
    """A figure as it is compared inside a search."""
    return recorded(figure, COMPARED_PLACES)


def compared(figures: "Numbers") -> "Numbers":
    """The same for many at once."""
    return figures.round(COMPARED_PLACES) + 0.0
