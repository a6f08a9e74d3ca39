"""Everything that `triage drive` says about a drive, each figure known, unsure or unknown with the reason."""

import math
from dataclasses import asdict, dataclass, fields, replace
from functools import partial
from typing import Any

from triage.drive.figures.derived import Derived, derived, each
from triage.drive.figures.dynamics import Isolation, frequencies_of, isolation_of, reversal_of
from triage.drive.figures.running import Running
from triage.drive.figures.slip_margins import slip_margins
from triage.drive.figures.unsure_diameters import moved, unsure
from triage.drive.layout.assembly import Drive
from triage.knowledge.models import PULLEY_TYPES, PulleyType

USUAL_SLOWING_REV_S2 = 2000 / 60
"""Crank deceleration where none is asked for: from 2000 r/min to nothing in a second; from memory."""

MOVING = (
    "spans_m",
    "wraps_deg",
    "ratios",
    "turns_per_s",
    "span_hz",
    "natural_hz",
    "natural_crank_held_hz",
    "belt_length_m",
    "lap_per_s",
    "belt_speed_m_s",
    "reversal_rpm_per_s",
)
"""What depends on diameters, besides the margins."""

List = Derived[tuple[float, ...]]
AnyFigure = List | Derived[float] | Derived[Isolation]


@dataclass(frozen=True)
class DriveFigures:
    """What is known of a drive at one speed; names as in the published JSON, lists in pulley order.

    Span i runs from pulley i to the next. All figures are magnitudes.
    """

    parts: tuple[str, ...]
    rpm: float | None
    slowing_rpm_per_s: float
    spans_m: List
    wraps_deg: List
    belt_length_m: Derived[float]
    ratios: List
    turns_per_s: List
    lap_per_s: Derived[float]
    belt_speed_m_s: Derived[float]
    firing_hz: Derived[float]
    span_hz: List
    rib_tension_n: Derived[float]
    slip_margin: dict[str, dict[PulleyType, List]]
    reversal_rpm_per_s: Derived[float]
    natural_hz: List
    natural_crank_held_hz: List
    isolation: Derived[Isolation]
    assumed: tuple[str, ...]

    @property
    def reasons(self) -> dict[str, str]:
        """Why figures are unknown, by their names, with dots into nested ones."""
        return {name: figure.reason for name, figure in self._by_name().items() if figure.reason}

    @property
    def uncertainty(self) -> dict[str, tuple[float, ...] | float | None]:
        """What unsure diameters do to figures, by such names: standard uncertainties, none where that is without end.

        Nothing where every diameter is sure.
        """
        figures = self._by_name()
        widths = {name: figures[name].uncertainty for name in dict.fromkeys((*MOVING, *figures))}
        return {
            name: None if math.inf in each(width) else width
            for name, width in widths.items()
            if width is not None and not isinstance(width, Isolation)
        }

    def published(self) -> dict[str, object]:
        """All figures in SI under their names, unknown ones as none, with the reasons and what is unsure."""
        values = {field.name: _value(getattr(self, field.name)) for field in fields(self)}
        assumed = values.pop("assumed")
        return {**values, "reasons": self.reasons, "uncertainty": self.uncertainty, "assumed": assumed}

    def _by_name(self) -> dict[str, AnyFigure]:
        named: dict[str, AnyFigure] = {}
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, Derived):
                named[field.name] = value
            elif isinstance(value, dict):
                named.update(
                    {f"{field.name}.{case}.{pulley}": one for case, by in value.items() for pulley, one in by.items()}
                )
        return named


def figures_of(
    drive: Drive, crank_rev_s: float | None = None, slowing_rev_s2: float = USUAL_SLOWING_REV_S2
) -> DriveFigures:
    """Work out all that a drive's data allow.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank; idle where none is given [rev/s].
        slowing_rev_s2: rate at which the crank loses speed, for the margins while slowing [rev/s²].

    Returns:
        figures with n values in every list, those that stay unknown with their reasons.

    Source: beikmann-1996, khurmi, iso-9981
    """
    crank_rev_s = drive.idle_rev_s if crank_rev_s is None else crank_rev_s
    figures = _figures(drive, crank_rev_s, slowing_rev_s2)
    ends = moved(drive, lambda other: _figures(other, crank_rev_s, slowing_rev_s2))
    margins = {
        case: {
            pulley: unsure(one, [(up.slip_margin[case][pulley], down.slip_margin[case][pulley]) for up, down in ends])
            for pulley, one in by_type.items()
        }
        for case, by_type in figures.slip_margin.items()
    }
    changes: dict[str, Any] = {
        name: unsure(getattr(figures, name), [(getattr(up, name), getattr(down, name)) for up, down in ends])
        for name in MOVING
    }
    return replace(figures, slip_margin=margins, **changes)


def _figures(drive: Drive, crank_rev_s: float | None, slowing_rev_s2: float) -> DriveFigures:
    running = Running(drive, crank_rev_s)
    return DriveFigures(
        parts=tuple(member.part for member in drive.members),
        rpm=None if crank_rev_s is None else crank_rev_s * 60,
        slowing_rpm_per_s=slowing_rev_s2 * 60,
        spans_m=derived(lambda: tuple(span.length_m for span in running.route.spans)),
        wraps_deg=derived(lambda: tuple(math.degrees(wrap) for wrap in running.route.wraps_rad)),
        belt_length_m=derived(lambda: running.belt_m),
        ratios=Derived(running.ratios),
        turns_per_s=derived(lambda: running.turns_per_s),
        lap_per_s=derived(lambda: running.lap_hz),
        belt_speed_m_s=derived(lambda: running.belt_m_s),
        firing_hz=derived(lambda: running.firing_hz),
        span_hz=derived(lambda: running.span_hz),
        rib_tension_n=derived(lambda: running.rib_tension_n),
        slip_margin={"steady": _margins(running, 0.0), "slowing": _margins(running, slowing_rev_s2)},
        reversal_rpm_per_s=derived(lambda: reversal_of(drive) * 60),
        natural_hz=derived(lambda: frequencies_of(drive, crank_held=False)),
        natural_crank_held_hz=derived(lambda: frequencies_of(drive, crank_held=True)),
        isolation=derived(lambda: isolation_of(drive)),
        assumed=drive.assumed,
    )


def _margins(running: Running, slowing_rev_s2: float) -> dict[PulleyType, List]:
    return {pulley: derived(partial(slip_margins, running, pulley, slowing_rev_s2)) for pulley in PULLEY_TYPES}


def _value(field: object) -> object:
    """A field as it is published."""
    if isinstance(field, dict):
        return {name: _value(one) for name, one in field.items()}
    value = field.value if isinstance(field, Derived) else field
    return asdict(value) if isinstance(value, Isolation) else value
