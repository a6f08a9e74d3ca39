"""What is unsure in a layout leaves open, in words: the widest standard uncertainty of each sort of figure."""

import math
from typing import TYPE_CHECKING

from triage.drive.figures.derived import Derived, each

if TYPE_CHECKING:
    from triage.drive.figures.drive_figures import DriveFigures

    Sized = Derived[float] | Derived[tuple[float, ...]]

_AS_LENGTH = (("spans_m", "spans"), ("belt_length_m", "belt"))
_AS_SHARE = (
    ("belt_speed_m_s", "belt speed"),
    ("lap_per_s", "laps"),
    ("span_hz", "notes of spans"),
    ("span_tension_n", "tensions"),
    ("natural_hz", "natural frequencies"),
    ("reversal_rpm_per_s", "reversal"),
)
LEAST = 1e-9
"""Below this, rounding and not a diameter made the difference."""


def what_is_open(figures: "DriveFigures") -> str:
    """Say how far what is unsure lets a drive's figures vary; nothing where all is sure."""
    said = [
        f"{words} {1000 * _widest(getattr(figures, name)):.2g} mm"
        for name, words in _AS_LENGTH
        if _widest(getattr(figures, name)) > LEAST
    ]
    wraps_deg = _widest(figures.wraps_deg)
    said += [f"wraps {wraps_deg:.2g}°"] if wraps_deg > LEAST else []
    shares = {words: _widest_share(getattr(figures, name)) for name, words in _AS_SHARE}
    margins = [_widest_share(one) for by_type in figures.grip_used.values() for one in by_type.values()]
    shares["shares of grip"] = max(margins, default=0.0)
    said += [f"{words} {share * 100:.2g} %" for words, share in shares.items() if share > LEAST]
    if not said:
        return ""
    return f"That leaves open, as standard uncertainty at most: {', '.join(said)}."


def shares_of_ratios(figures: "DriveFigures") -> tuple[float, ...]:
    """Say how unsure each speed ratio is, over itself.

    Args:
        figures: n pulleys.

    Returns:
        n shares; nothing where every diameter is sure [1].

    Source: jcgm-100
    """
    ratios = figures.ratios
    return tuple(width / ratio for width, ratio in zip(each(ratios.uncertainty), each(ratios.value), strict=False))


def _widths(figure: "Sized") -> tuple[float, ...]:
    """How unsure it is; nothing where it is sure, or where that has no end."""
    return tuple(width if width < math.inf else 0.0 for width in each(figure.uncertainty))


def _widest(figure: "Sized") -> float:
    return max(_widths(figure), default=0.0)


def _widest_share(figure: "Sized") -> float:
    pairs = zip(_widths(figure), each(figure.value), strict=False)
    sized = (width / abs(value) for width, value in pairs if LEAST < abs(value) < math.inf)
    return max(sized, default=0.0)
