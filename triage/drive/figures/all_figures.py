"""Everything that `triage drive` says about a drive, each figure known or unknown with the reason."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from triage.drive.figures.dynamics import Isolation, frequencies_of, isolation_of, reversal_of
from triage.drive.figures.kinematics import (
    belt_length,
    firings_of,
    known_route,
    laps_of,
    ratios_of,
    rib_tension,
    span_notes,
    speed_of_belt,
    turns_of,
)
from triage.drive.figures.margins import slip_margins
from triage.drive.figures.spread import uncertainties
from triage.drive.figures.unknown import UnknownFigureError
from triage.drive.layout.assembly import Drive
from triage.knowledge.models import PULLEY_TYPES, PulleyType

T = TypeVar("T")

USUAL_SLOWING_REV_S2 = 2000 / 60
"""Crank deceleration where none is asked for: from 2000 r/min to nothing in a second; from memory."""

LISTS = ("spans_m", "wraps_deg", "ratios", "turns_per_s", "span_hz", "natural_hz", "natural_crank_held_hz")
SINGLE = ("belt_length_m", "lap_per_s", "belt_speed_m_s", "reversal_rpm_per_s")
"""What depends on diameters, besides the margins."""

Margins = dict[PulleyType, tuple[float, ...] | None]


@dataclass(frozen=True)
class DriveFigures:
    """What is known of a drive at one speed; names as in the published JSON, lists in pulley order.

    Span i runs from pulley i to the next. All figures are magnitudes. What is none has its reason in `reasons` under
    the same name, with dots into nested ones. `uncertainty` has, under such names too, what unsure diameters do to
    them: standard uncertainties, none where that cannot be said; nothing where every diameter is sure.
    """

    parts: tuple[str, ...]
    rpm: float | None
    slowing_rpm_per_s: float
    spans_m: tuple[float, ...] | None
    wraps_deg: tuple[float, ...] | None
    belt_length_m: float | None
    ratios: tuple[float, ...]
    turns_per_s: tuple[float, ...] | None
    lap_per_s: float | None
    belt_speed_m_s: float | None
    firing_hz: float | None
    span_hz: tuple[float, ...] | None
    rib_tension_n: float | None
    slip_margin: dict[str, Margins]
    reversal_rpm_per_s: float | None
    natural_hz: tuple[float, ...] | None
    natural_crank_held_hz: tuple[float, ...] | None
    isolation: Isolation | None
    reasons: dict[str, str]
    uncertainty: dict[str, tuple[float, ...] | float | None]
    assumed: tuple[str, ...]


class _Answers:
    """Asks for figures and collects the reasons of those that stay unknown."""

    def __init__(self) -> None:
        self.reasons: dict[str, str] = {}

    def ask(self, name: str, question: Callable[[], T]) -> T | None:
        try:
            return question()
        except UnknownFigureError as unknown:
            self.reasons[name] = unknown.reason
            return None


def figures_of(
    drive: Drive, crank_rev_s: float | None = None, slowing_rev_s2: float = USUAL_SLOWING_REV_S2
) -> DriveFigures:
    """Work out all that a drive's data allow.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank; idle where none is given [rev/s].
        slowing_rev_s2: rate at which the crank loses speed, for the margins while slowing [rev/s²].

    Returns:
        figures with n values in every list, and the reasons for those that stay unknown.

    Source: beikmann-1996, khurmi, iso-9981
    """
    crank_rev_s = drive.idle_rev_s if crank_rev_s is None else crank_rev_s
    figures = _figures(drive, crank_rev_s, slowing_rev_s2)
    if not any(member.pitch_spread_m for member in drive.members):
        return figures
    unsure = uncertainties(drive, lambda moved: _moving(_figures(moved, crank_rev_s, slowing_rev_s2)))
    single = {name: values[0] if values and name in SINGLE else values for name, values in unsure.items()}
    return replace(figures, uncertainty=single)


def _figures(drive: Drive, crank_rev_s: float | None, slowing_rev_s2: float) -> DriveFigures:
    answers = _Answers()
    ask = answers.ask
    return DriveFigures(
        parts=tuple(member.part for member in drive.members),
        rpm=None if crank_rev_s is None else crank_rev_s * 60,
        slowing_rpm_per_s=slowing_rev_s2 * 60,
        spans_m=ask("spans_m", lambda: tuple(span.length_m for span in known_route(drive).spans)),
        wraps_deg=ask("wraps_deg", lambda: tuple(math.degrees(wrap) for wrap in known_route(drive).wraps_rad)),
        belt_length_m=ask("belt_length_m", lambda: belt_length(drive)),
        ratios=ratios_of(drive),
        turns_per_s=ask("turns_per_s", lambda: turns_of(drive, crank_rev_s)),
        lap_per_s=ask("lap_per_s", lambda: laps_of(drive, crank_rev_s)),
        belt_speed_m_s=ask("belt_speed_m_s", lambda: speed_of_belt(drive, crank_rev_s)),
        firing_hz=ask("firing_hz", lambda: firings_of(drive, crank_rev_s)),
        span_hz=ask("span_hz", lambda: span_notes(drive, crank_rev_s)),
        rib_tension_n=ask("rib_tension_n", lambda: rib_tension(drive)),
        slip_margin={
            "steady": _margins(answers, drive, crank_rev_s, "steady", 0.0),
            "slowing": _margins(answers, drive, crank_rev_s, "slowing", slowing_rev_s2),
        },
        reversal_rpm_per_s=ask("reversal_rpm_per_s", lambda: reversal_of(drive) * 60),
        natural_hz=ask("natural_hz", lambda: frequencies_of(drive, crank_held=False)),
        natural_crank_held_hz=ask("natural_crank_held_hz", lambda: frequencies_of(drive, crank_held=True)),
        isolation=ask("isolation", lambda: isolation_of(drive)),
        reasons=answers.reasons,
        uncertainty={},
        assumed=drive.assumed,
    )


def _moving(figures: DriveFigures) -> dict[str, tuple[float, ...] | None]:
    """The figures that depend on diameters, by name."""
    moving: dict[str, tuple[float, ...] | None] = {name: getattr(figures, name) for name in LISTS}
    for name in SINGLE:
        value = getattr(figures, name)
        moving[name] = None if value is None else (value,)
    for case, by_type in figures.slip_margin.items():
        moving.update({f"slip_margin.{case}.{pulley}": margins for pulley, margins in by_type.items()})
    return moving


def _margins(answers: _Answers, drive: Drive, crank_rev_s: float | None, case: str, slowing_rev_s2: float) -> Margins:
    return {
        pulley: answers.ask(
            f"slip_margin.{case}.{pulley}", partial(slip_margins, drive, crank_rev_s, pulley, slowing_rev_s2)
        )
        for pulley in PULLEY_TYPES
    }
