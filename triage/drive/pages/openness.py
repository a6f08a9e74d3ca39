"""What unsure diameters leave open, in words: the widest standard uncertainty of each sort of figure."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.drive.figures.all_figures import DriveFigures

_AS_LENGTH = (("spans_m", "spans"), ("belt_length_m", "belt"))
_AS_ANGLE = (("wraps_deg", "wraps"),)
_AS_SHARE = (
    ("belt_speed_m_s", "belt speed"),
    ("lap_per_s", "laps"),
    ("span_hz", "notes of spans"),
    ("natural_hz", "natural frequencies"),
    ("reversal_rpm_per_s", "reversal"),
)
Figures = Sequence[float] | float | None
LEAST = 1e-9
"""Below this, rounding and not a diameter made the difference."""


def what_is_open(figures: "DriveFigures") -> str:
    """Say how far unsure diameters let a drive's figures vary.

    Args:
        figures: what was worked out for a drive.

    Returns:
        one sentence; nothing where every diameter is sure.

    Source: jcgm-100
    """
    unsure = figures.uncertainty
    said = [
        f"{words} {_widest(unsure[name], 1000):.2g} mm"
        for name, words in _AS_LENGTH
        if _widest(unsure.get(name)) > LEAST
    ]
    said += [f"{words} {_widest(unsure[name]):.2g}°" for name, words in _AS_ANGLE if _widest(unsure.get(name)) > LEAST]
    shares = {words: _share(unsure.get(name), getattr(figures, name)) for name, words in _AS_SHARE}
    shares["margins against slip"] = max(
        (
            _share(unsure.get(f"slip_margin.{case}.{pulley}"), margins)
            for case, by_type in figures.slip_margin.items()
            for pulley, margins in by_type.items()
        ),
        default=0.0,
    )
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
    unsure = figures.uncertainty.get("ratios")
    if not isinstance(unsure, tuple):
        return ()
    return tuple(width / ratio for width, ratio in zip(unsure, figures.ratios, strict=True))


def _widest(unsure: Figures, factor: float = 1.0) -> float:
    return factor * max(_listed(unsure), default=0.0)


def _share(unsure: Figures, values: Figures) -> float:
    pairs = zip(_listed(unsure), _listed(values), strict=False)
    return max((width / abs(value) for width, value in pairs if abs(value) > LEAST), default=0.0)


def _listed(figures: Figures) -> Sequence[float]:
    if figures is None:
        return ()
    return (figures,) if isinstance(figures, float) else figures
