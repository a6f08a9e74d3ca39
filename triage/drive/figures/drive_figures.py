"""The figures of a drive under their published names, each known, unsure or unknown with the reason."""

import math
from dataclasses import asdict, dataclass, fields, is_dataclass

from triage.drive.figures.derived import Derived, each
from triage.drive.figures.dynamics import Isolation
from triage.drive.figures.tensioning import Tensioning
from triage.knowledge.models import PulleyType

List = Derived[tuple[float, ...]]
ByType = dict[str, dict[PulleyType, List]]
AnyFigure = List | Derived[float] | Derived[Isolation] | Derived[Tensioning]

MOVING = (
    "spans_m",
    "wraps_deg",
    "ratios",
    "turns_per_s",
    "span_hz",
    "span_standing_hz",
    "span_tension_n",
    "natural_hz",
    "natural_crank_held_hz",
    "natural_fitted_hz",
    "natural_fitted_crank_held_hz",
    "firing_meets_rpm",
    "firing_meets_crank_held_rpm",
    "belt_length_m",
    "lap_per_s",
    "belt_speed_m_s",
    "rib_tension_n",
    "reversal_rpm_per_s",
    "unloaded_reversal_rpm_per_s",
)
"""What moves with what is unsure, besides what is worked out by pulley type."""
BY_TYPE = ("slip_margin", "grip_used", "slips_below_friction")
"""What is worked out by state of the engine and by pulley type."""


@dataclass(frozen=True)
class DriveFigures:
    """What is known of a drive at one speed; names as in the published JSON, lists in pulley order.

    Pulleys are in running direction. Span i runs from pulley i to the next. All figures are magnitudes.
    """

    parts: tuple[str, ...]
    turns: Derived[str]
    slack_span: Derived[tuple[str, ...]]
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
    span_standing_hz: List
    span_tension_n: List
    rib_tension_n: Derived[float]
    tensioner: Derived[Tensioning]
    slip_margin: ByType
    grip_used: ByType
    slips_below_friction: ByType
    grip_used_arm_held: List
    grip_used_arm_pressed: List
    reversal_rpm_per_s: Derived[float]
    unloaded_reversal_rpm_per_s: Derived[float]
    natural_hz: List
    natural_crank_held_hz: List
    natural_fitted_hz: List
    natural_fitted_crank_held_hz: List
    firing_meets_rpm: List
    firing_meets_crank_held_rpm: List
    isolation: Derived[Isolation]
    warnings: tuple[str, ...]
    assumed: tuple[str, ...]

    @property
    def reasons(self) -> dict[str, str]:
        """Why figures are unknown, by their names, with dots into nested ones."""
        return {name: figure.reason for name, figure in self._by_name().items() if figure.reason}

    @property
    def uncertainty(self) -> dict[str, tuple[float | None, ...] | float | None]:
        """What is unsure in the layout does to figures, by such names: standard uncertainties.

        None where that is without end; nothing where all is sure.
        """
        figures = self._by_name()
        published: dict[str, tuple[float | None, ...] | float | None] = {}
        for name in dict.fromkeys((*MOVING, *figures)):
            value, width = figures[name].value, figures[name].uncertainty
            if isinstance(value, float | tuple) and isinstance(width, float | tuple):
                published[name] = _width(value, width)
        return published

    def published(self) -> dict[str, object]:
        """All figures in SI under their names, unknown ones as none, with the reasons and what is unsure."""
        values = {field.name: _value(getattr(self, field.name)) for field in fields(self)}
        last = {name: values.pop(name) for name in ("warnings", "assumed")}
        return {**values, "reasons": self.reasons, "uncertainty": self.uncertainty, **last}

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


def _width(
    value: float | tuple[float, ...], width: float | tuple[float, ...]
) -> tuple[float | None, ...] | float | None:
    """As it is published: none where a figure that has an end may be without."""
    pairs = zip(each(width), each(value), strict=True)
    if any(math.isinf(one) and not math.isinf(figure) for one, figure in pairs):
        return None
    return tuple(None if math.isinf(one) else one for one in width) if isinstance(width, tuple) else width


def _value(field: object) -> object:
    """A field as it is published."""
    if isinstance(field, dict):
        return {name: _value(one) for name, one in field.items()}
    value = field.value if isinstance(field, Derived) else field
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    return _finite(value)


def _finite(value: object) -> object:
    """A figure that can be written down: a wrap with a slack side uses up any friction, and there stands none."""
    if isinstance(value, tuple):
        return tuple(_finite(one) for one in value)
    return None if isinstance(value, float) and math.isinf(value) else value
