"""A reading near a limit is called near a limit: probabilities of the zones, and whether each boundary is decided.

The reading with its standard uncertainty stands for a normal distribution of the quantity itself, with no knowledge
beforehand. Each limit is judged by itself: it is decided when the quantity lies on one side of it with at least 95 %.
Pure arithmetic; text and instruments live elsewhere.

Source: JCGM 106:2012 (conformance probability of a normal distribution), from memory; 95 % from ISO 14253-1.
"""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

DECIDED = 0.95
"""Probability at which a boundary counts as decided. Source: ISO 14253-1."""


@dataclass(frozen=True)
class Conformity:
    """How a reading stands to the limits between its zones.

    Args:
        zone: index of the zone the reading lies in, which is the likelier side of every limit; a reading exactly on a
            limit counts to the zone below it.
        settled: every limit is decided.
        probabilities: of each zone, from the lowest up; they add up to one.
        margins: reading less limit, for each limit, in the unit of the reading.
        nearest: index of the limit with the least margin.
    """

    zone: int
    settled: bool
    probabilities: tuple[float, ...]
    margins: tuple[float, ...]
    nearest: int


def probability_below(limit: float, value: float, u: float) -> float:
    """Return the probability that the quantity lies below a limit.

    Φ((limit − value) / u). Without uncertainty the reading decides; exactly on the limit it is one half.

    Args:
        limit: the limit, in the unit of the reading.
        value: the reading.
        u: its standard uncertainty, in the same unit, not negative.

    Source: JCGM 106:2012, from memory.

    >>> round(1 - probability_below(5.40, 5.47, 0.05), 6)  # breakdown voltage of at least 5.40 V
    0.919243
    """
    if u == 0:
        return 0.5 if value == limit else float(value < limit)
    return 0.5 * math.erfc((value - limit) / (u * math.sqrt(2)))


def judge(value: float, u: float, limits: Sequence[float]) -> Conformity:
    """Judge a reading against the limits between its zones.

    Args:
        value: the reading.
        u: its standard uncertainty, in the same unit.
        limits: the boundaries between the zones, at least one, each above the one before.

    Raises:
        ValueError: no limit, limits that do not ascend, a negative uncertainty, or a figure that is not finite.

    Source: JCGM 106:2012 and ISO 14253-1.

    >>> judge(1.2, 0.01, (1.0, 1.5)).settled, judge(1.01, 0.05, (1.0, 1.5)).settled
    (True, False)
    """
    if not all(math.isfinite(figure) for figure in (value, u, *limits)) or u < 0:
        raise ValueError("reading, limits and uncertainty must be finite, the uncertainty not negative")
    if not limits or any(low >= high for low, high in pairwise(limits)):
        raise ValueError("limits must ascend, and there must be one")
    below = [probability_below(limit, value, u) for limit in limits]
    margins = tuple(value - limit for limit in limits)
    return Conformity(
        zone=bisect_left(limits, value),
        settled=all(max(share, 1 - share) >= DECIDED for share in below),
        probabilities=tuple(high - low for low, high in zip([0.0, *below], [*below, 1.0], strict=True)),
        margins=margins,
        nearest=min(range(len(limits)), key=lambda index: abs(margins[index])),
    )
