"""The rate of something that repeats, out of taps along with it: rate, spread, and how many taps are still needed."""

import math
from dataclasses import dataclass
from itertools import pairwise

FEWEST_TAPS = 6
"""From memory: with fewer the spread of the taps says little about itself."""
GOOD_ENOUGH = 0.02
"""From memory: standard uncertainty over the rate at which a lap is told from its neighbours."""
SKIPPED = 1.6
"""From memory: an interval this many times the middle one means that a tap was left out."""
MOST_PLACES = 3
"""Decimals of a rate in hertz; a hand is never surer than that."""
RULE = "Rule, from memory: at least 6 taps, until the rate is sure to 2 % (one standard uncertainty)."


@dataclass(frozen=True)
class Tapped:
    """What the taps say.

    Args:
        rate_hz: repeats per second.
        uncertainty_hz: standard uncertainty of the rate.
        spread_s: standard deviation of the taps about an even beat.
        needed: taps still needed; 0 when the rate is good enough.
        skipped: whether a tap seems to have been left out.
    """

    rate_hz: float
    uncertainty_hz: float
    spread_s: float
    needed: int
    skipped: bool


def judge(taps_s: tuple[float, ...]) -> Tapped | None:
    """Lay an even beat through the taps by least squares.

    Args:
        taps_s: when each tap came, rising [s].

    Returns:
        what they say; None for fewer than three, which always lie on or beside some beat.
    """
    count = len(taps_s)
    if count < 3 or taps_s[-1] <= taps_s[0]:
        return None
    middle, mean_s = (count - 1) / 2, sum(taps_s) / count
    period_s = sum((i - middle) * (t - mean_s) for i, t in enumerate(taps_s)) / _width(count)
    residue = sum((t - mean_s - period_s * (i - middle)) ** 2 for i, t in enumerate(taps_s))
    spread_s = math.sqrt(residue / (count - 2))
    relative = spread_s / math.sqrt(_width(count)) / period_s
    gaps = sorted(later - earlier for earlier, later in pairwise(taps_s))
    return Tapped(
        rate_hz=1 / period_s,
        uncertainty_hz=relative / period_s,
        spread_s=spread_s,
        needed=max(0, _enough(spread_s / period_s) - count),
        skipped=gaps[-1] > SKIPPED * gaps[len(gaps) // 2],
    )


def as_typed(tapped: Tapped) -> str:
    """The rate as a person would type it, with half a width that stands for the same standard uncertainty.

    A typed ± counts as the half-width of values that are all as likely, √3 standard uncertainties. It is rounded up,
    and is one in the last place at least: no hand taps without any spread.

    Source: jcgm-100
    """
    half_hz = math.sqrt(3) * tapped.uncertainty_hz
    places = min(MOST_PLACES, max(0, 1 - math.floor(math.log10(half_hz)))) if half_hz else MOST_PLACES
    steps = max(1, math.ceil(half_hz * 10**places))
    return f"{tapped.rate_hz:.{places}f} ± {steps / 10**places:.{places}f} Hz"


def _width(count: int) -> float:
    """Sum of squares of the places of taps about their middle."""
    return count * (count * count - 1) / 12


def _enough(spread: float) -> int:
    """Taps with which a beat of this spread, in periods, is known well enough."""
    count = max(FEWEST_TAPS, int((12 * (spread / GOOD_ENOUGH) ** 2) ** (1 / 3)) - 1)
    while spread / math.sqrt(_width(count)) > GOOD_ENOUGH:
        count += 1
    return count
