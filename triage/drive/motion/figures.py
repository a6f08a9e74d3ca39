"""The figures of a variant: what its tensions, arm, rotor and slip did within the window of an event."""

import math
from dataclasses import asdict, dataclass

import numpy as np

from triage.drive.mechanics.coasting import coast_time
from triage.drive.motion.events import Event
from triage.drive.motion.machine import Array, Machine, Variant
from triage.drive.motion.running import STILL_RAD_S, Stretch

DIGITS = 4
"""Significant digits of published figures."""
RPM = 60 / math.tau
"""Revolutions per minute in one radian per second."""
SERIES_S = 0.002
"""Time between two points of a series at the least: fine enough for firings, coarse enough to draw."""
MOST_POINTS = 4000
"""Points of a series at the most."""


@dataclass(frozen=True)
class Figures:
    """What a variant did; names as in the published JSON, none where drive or event have no such figure.

    Rotor figures are those of the rotor, not of the ring around it.
    """

    tension_min_n: float
    tension_max_n: float
    tension_swing_n: float
    arm_swing_mm: float | None
    rotor_swing_rpm: float | None
    rotor_ahead_rpm: float | None
    overrun_s: float | None
    slip_mm: float
    slip_by_pulley_mm: dict[str, float]
    ring_still_s: float | None
    rotor_still_s: float | None
    coast_s: float | None
    steps: int
    step_s: float

    def published(self) -> dict[str, object]:
        """All of them under their names, rounded to four significant digits."""
        return {name: _rounded(value) for name, value in asdict(self).items()}


@dataclass(frozen=True)
class Series:
    """How a run went, thinned; k points, n spans, one column a variant.

    Args:
        times_s: shape (k,).
        tensions_n: shape (k, n, variants).
        rotor_rpm: shape (k, variants).
        ring_rpm: of the alternator's ring, likewise.
        arm_mm: way of the arm's pulley from its place in the layout, likewise.
    """

    times_s: Array
    tensions_n: Array
    rotor_rpm: Array
    ring_rpm: Array
    arm_mm: Array


class Watch:
    """Looks at each stretch of a run once and keeps what the figures need."""

    def __init__(self, machine: Machine, event: Event, step_s: float) -> None:
        """Begin with nothing seen."""
        n, variants = machine.inertias_kg_m2.shape
        self._machine, self._event, self._step_s = machine, event, step_s
        self._at = machine.alternator
        self._tension = np.full((n, variants), math.inf), np.full((n, variants), -math.inf)
        self._arm = np.full(variants, math.inf), np.full(variants, -math.inf)
        self._rotor = np.full(variants, math.inf), np.full(variants, -math.inf)
        self._ahead = np.full(variants, -math.inf)
        self._overrun, self._slip = np.zeros(variants), np.zeros((n, variants))
        self._ring_moved, self._rotor_moved = np.zeros(variants), np.zeros(variants)
        self._last: Stretch | None = None
        self._steps = 0
        points = min(event.seconds / SERIES_S, MOST_POINTS)
        self._every = max(1, round(event.seconds / step_s / points))
        self._points: list[tuple[Array, ...]] = []

    def take(self, stretch: Stretch) -> None:
        """Look at what a machine did next."""
        begun, ended = self._event.window_s
        half = self._step_s / 2
        within = (stretch.ends_s > begun + half) & (stretch.ends_s < ended + half)
        if within.any():
            self._extremes(stretch, within)
        slipping = stretch.ends_s > self._event.slip_from_s + half
        if self._event.kind not in WHOLE_RUN:
            slipping &= stretch.ends_s < ended + half
        self._slip += np.abs(stretch.slip_m_s[slipping]).sum(axis=0) * self._step_s
        self._ring_moved = _last_moved(stretch, self._ring(stretch), self._ring_moved)
        self._rotor_moved = _last_moved(stretch, stretch.rotor_rad_s, self._rotor_moved)
        self._keep(stretch)
        self._steps += len(stretch.ends_s)
        self._last = stretch

    def _extremes(self, stretch: Stretch, within: "np.ndarray[tuple[int], np.dtype[np.bool_]]") -> None:
        self._tension = _wider(self._tension, stretch.tensions_n[within])
        self._arm = _wider(self._arm, stretch.arm_rad[within])
        rotor = stretch.rotor_rad_s[within]
        self._rotor = _wider(self._rotor, rotor)
        self._ahead = np.maximum(self._ahead, (rotor - self._ring(stretch)[within]).max(axis=0))
        self._overrun += (stretch.slide_rad_s[within] < 0).sum(axis=0) * self._step_s

    def _ring(self, stretch: Stretch) -> Array:
        ring: Array = stretch.pulleys_rad_s[:, self._at if self._at is not None else 0]
        return ring

    def _keep(self, stretch: Stretch) -> None:
        kept = np.arange(self._steps, self._steps + len(stretch.ends_s)) % self._every == 0
        arm_mm = stretch.arm_rad[kept] * self._arm_mm
        rotor, ring = stretch.rotor_rad_s[kept] * RPM, self._ring(stretch)[kept] * RPM
        self._points.append((stretch.ends_s[kept], stretch.tensions_n[kept], rotor, ring, arm_mm))

    @property
    def _arm_mm(self) -> float:
        return self._machine.paths.length_m * 1000 if self._machine.paths is not None else 0.0

    def series(self) -> Series:
        """How the run went."""
        return Series(*(np.concatenate(parts) for parts in zip(*self._points, strict=True)))

    def figures(self) -> tuple[Figures, ...]:
        """The figures, one a variant, in the order of the machine."""
        return tuple(self._of(column) for column in range(len(self._machine.variants)))

    def _of(self, column: int) -> Figures:
        assert self._last is not None  # noqa: S101
        lowest, highest = (one[:, column] for one in self._tension)
        slip_mm = self._slip[:, column] * 1000
        ring_s, rotor_s = self._still(column) if self._event.free_crank else (None, None)
        rotor = self._at is not None
        # What the tan law carried to rest ran ahead of its ring all the way down.
        coasted_s = max(0.0, rotor_s - float(self._last.ends_s[-1])) if rotor_s is not None else 0.0
        slowest = 0.0 if coasted_s else float(self._rotor[0][column])
        return Figures(
            tension_min_n=float(lowest.min()),
            tension_max_n=float(highest.max()),
            tension_swing_n=float((highest - lowest).max()),
            arm_swing_mm=self._span(self._arm, column) * self._arm_mm if self._machine.paths is not None else None,
            rotor_swing_rpm=(float(self._rotor[1][column]) - slowest) * RPM if rotor else None,
            rotor_ahead_rpm=float(self._ahead[column]) * RPM if rotor else None,
            overrun_s=float(self._overrun[column]) + coasted_s if rotor else None,
            slip_mm=math.fsum(slip_mm),
            slip_by_pulley_mm=dict(zip(self._machine.parts, map(float, slip_mm), strict=True)),
            ring_still_s=ring_s,
            rotor_still_s=rotor_s if rotor else None,
            coast_s=rotor_s - ring_s if rotor and rotor_s is not None and ring_s is not None else None,
            steps=self._steps,
            step_s=self._step_s,
        )

    @staticmethod
    def _span(ends: tuple[Array, Array], column: int) -> float:
        return float(ends[1][column] - ends[0][column])

    def _still(self, column: int) -> tuple[float | None, float | None]:
        """When ring and rotor came to stand; after the ring the rotor's way to rest is the tan law."""
        assert self._last is not None  # noqa: S101
        ended_s = float(self._last.ends_s[-1])
        ring_s, rotor_s = float(self._ring_moved[column]), float(self._rotor_moved[column])
        if ring_s >= ended_s:
            return None, None
        if rotor_s < ended_s:
            return ring_s, rotor_s
        speed = float(self._last.rotor_rad_s[-1, column])
        if not self._last.slide_rad_s[-1, column] < 0 or speed <= STILL_RAD_S:
            return ring_s, None
        parameters, machine = self._machine.parameters, self._machine
        drag_nm = parameters.rotor_drag_nm - float(self._last.joint_nm[-1, column])
        if drag_nm <= 0:
            return ring_s, None
        to_rest = [
            coast_time(machine.rotor_kg_m2, one, drag_nm, parameters.windage_nm_s2) for one in (speed, STILL_RAD_S)
        ]
        return ring_s, ended_s + to_rest[0] - to_rest[1]


WHOLE_RUN = ("slow-down",)
"""Events of which slip is counted to the end of the run, not of the window."""


def _wider(ends: tuple[Array, Array], seen: Array) -> tuple[Array, Array]:
    return np.minimum(ends[0], seen.min(axis=0)), np.maximum(ends[1], seen.max(axis=0))


def _last_moved(stretch: Stretch, speeds: Array, before: Array) -> Array:
    """When each shaft was last seen moving: from the step after it, it stands."""
    moving = np.abs(speeds) >= STILL_RAD_S
    last: Array = np.where(moving, stretch.ends_s[:, None], 0.0).max(axis=0)
    return np.maximum(before, last)


def _rounded(value: object) -> object:
    if isinstance(value, dict):
        return {name: _rounded(one) for name, one in value.items()}
    return float(f"{value:.{DIGITS}g}") if isinstance(value, float) else value


def named(variant: Variant) -> dict[str, object]:
    """A variant as it is published."""
    return {"pulley": variant.pulley, "fault": variant.fault or None}
