"""Several readings of one quantity: whether they agree, and what they come to together.

Two readings agree where they differ by no more than their expanded uncertainties together, k = 2. Those that agree are
weighed by 1/u². What an instrument is wrong by, it is wrong by each time: the uncertainty of the mean is that of
wholly correlated readings, Σ w·u, so measuring again with the same instrument does not make it better than it is.

Source: jcgm-100 (5.2.2, correlated inputs) and iso-iec-17043 (the number E_n), both from memory.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot

COVERAGE = 2
"""Coverage factor of an expanded uncertainty. Source: iso-iec-17043."""
MOST = 9
"""No more readings than the last so many are compared with each other."""


@dataclass(frozen=True)
class Measured:
    """One reading, or several together: a value and its standard uncertainty, in one unit."""

    value: float
    uncertainty: float


def agree(one: Measured, other: Measured) -> bool:
    """Whether two readings of one quantity may both be right; where nothing is known of their uncertainty, they may.

    Source: iso-iec-17043, |x₁ − x₂| ≤ √(U₁² + U₂²).

    >>> agree(Measured(0.95, 0.173), Measured(0.6, 0.173)), agree(Measured(1.1, 0.173), Measured(4.0, 0.173))
    (True, False)
    """
    both = hypot(one.uncertainty, other.uncertainty)
    return both == 0 or abs(one.value - other.value) <= COVERAGE * both


def weighed(readings: Sequence[Measured]) -> Measured:
    """The mean of readings that agree, each weighed by 1/u²; the plain mean where not all uncertainties are known.

    Source: jcgm-100.

    >>> weighed((Measured(10.0, 3.0), Measured(20.0, 1.0)))
    Measured(value=19.0, uncertainty=1.2)
    """
    known = all(one.uncertainty > 0 for one in readings)
    weights = [one.uncertainty**-2 if known else 1.0 for one in readings]
    total = sum(weights)
    value = sum(weight * one.value for weight, one in zip(weights, readings, strict=True)) / total
    uncertainty = sum(weight * one.uncertainty for weight, one in zip(weights, readings, strict=True)) / total
    return Measured(value, uncertainty)


def that_agree(readings: Sequence[Measured]) -> tuple[int, ...]:
    """Places of those readings that all agree with each other and are more than half of them; none where there are not.

    Of several such sets the largest counts, and of equal ones none: then nobody can tell which is right.

    >>> that_agree([Measured(1.0, 0.1), Measured(4.0, 0.1), Measured(4.1, 0.1)])
    (1, 2)
    """
    places = range(max(0, len(readings) - MOST), len(readings))
    for size in range(len(places), len(places) // 2, -1):
        sets = [
            chosen
            for chosen in combinations(places, size)
            if all(agree(readings[one], readings[other]) for one, other in combinations(chosen, 2))
        ]
        if sets:
            return sets[0] if len(sets) == 1 else ()
    return ()
