"""Which turning part a measured repeat fits, and which parts one reading cannot tell apart."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

COVERAGE = 2.0
"""Standard uncertainties either side of a reading that count as fitting; about 95 %, JCGM 100."""

NOT_PARTS = ("lap", "firing")
"""What comes round in every drive besides its parts, and is left out of the candidates where the data are missing."""


@dataclass(frozen=True)
class RateMatch:
    """What a measured repeat says.

    Args:
        fits: parts whose rate lies within the reading's spread, nearest first; several cannot be told apart by it.
        nearest: the part that is nearest, whether it fits or not.
        apart_hz: standard uncertainty that would tell the closest two of `fits` apart; none where nothing would.
        unknown: what comes round in every drive and was not among the candidates.
    """

    fits: tuple[str, ...]
    nearest: str
    apart_hz: float | None
    unknown: tuple[str, ...] = ()


def match_rate(
    measured_hz: float,
    uncertainty_hz: float,
    candidates_hz: Mapping[str, float],
    unsure_hz: Mapping[str, float] = MappingProxyType({}),
) -> RateMatch:
    """Compare a repeat that was tapped or counted with what turns in the drive.

    Args:
        measured_hz: repeats per second [Hz].
        uncertainty_hz: standard uncertainty of the reading [Hz].
        candidates_hz: at least one rate by name, such as lap, crank, alternator, firing [Hz].
        unsure_hz: standard uncertainty of those rates that are not sure themselves [Hz].

    Returns:
        what fits, nearest first, and how good a reading would have to be to part what fits now.

    Raises:
        ValueError: no candidate is given.

    Source: jcgm-100
    """
    if not candidates_hz:
        raise ValueError("There is nothing to compare the rate with.")
    unknown = tuple(name for name in NOT_PARTS if name not in candidates_hz)
    by_distance = sorted(candidates_hz, key=lambda name: abs(candidates_hz[name] - measured_hz))
    reach_hz = {name: COVERAGE * math.hypot(uncertainty_hz, unsure_hz.get(name, 0.0)) for name in candidates_hz}
    fits = tuple(name for name in by_distance if abs(candidates_hz[name] - measured_hz) <= reach_hz[name])
    ascending = sorted(fits, key=lambda name: candidates_hz[name])
    closest = min(pairwise(ascending), key=lambda pair: candidates_hz[pair[1]] - candidates_hz[pair[0]], default=None)
    if closest is None:
        return RateMatch(fits, by_distance[0], None, unknown)
    # Half the gap must be as wide as the coverage, or a reading between the two fits both.
    most_hz = (candidates_hz[closest[1]] - candidates_hz[closest[0]]) / 2 / COVERAGE
    own_hz = max(unsure_hz.get(name, 0.0) for name in closest)
    apart_hz = math.sqrt(most_hz**2 - own_hz**2) if most_hz > own_hz else None
    return RateMatch(fits, by_distance[0], apart_hz, unknown)
