"""Which turning part a measured repeat fits, and which parts one reading cannot tell apart."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

COVERAGE = 2.0
"""Standard uncertainties either side of a reading that count as fitting; about 95 %, JCGM 100."""


@dataclass(frozen=True)
class RateMatch:
    """What a measured repeat says.

    Args:
        fits: parts whose rate lies within the reading's spread, nearest first; several cannot be told apart by it.
        nearest: the part that is nearest, whether it fits or not.
        apart_hz: standard uncertainty that would tell the closest two of `fits` apart; none where nothing would.
    """

    fits: tuple[str, ...]
    nearest: str
    apart_hz: float | None


def match_rate(measured_hz: float, uncertainty_hz: float, candidates_hz: Mapping[str, float]) -> RateMatch:
    """Compare a repeat that was tapped or counted with what turns in the drive.

    Args:
        measured_hz: repeats per second [Hz].
        uncertainty_hz: standard uncertainty of the reading [Hz].
        candidates_hz: at least one rate by name, such as lap, crank, alternator, firing [Hz].

    Returns:
        what fits, nearest first, and how good a reading would have to be to part what fits now.

    Raises:
        ValueError: no candidate is given.

    Source: jcgm-100
    """
    if not candidates_hz:
        raise ValueError("There is nothing to compare the rate with.")
    by_distance = sorted(candidates_hz, key=lambda name: abs(candidates_hz[name] - measured_hz))
    reach_hz = COVERAGE * uncertainty_hz
    fits = tuple(name for name in by_distance if abs(candidates_hz[name] - measured_hz) <= reach_hz)
    rates = sorted(candidates_hz[name] for name in fits)
    gap_hz = min((upper - lower for lower, upper in pairwise(rates)), default=0.0)
    # Half the gap must be as wide as the coverage, or a reading between the two fits both.
    return RateMatch(fits, by_distance[0], gap_hz / 2 / COVERAGE if gap_hz > 0 else None)
