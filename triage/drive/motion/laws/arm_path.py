"""How the belt's way round changes while the tensioner's arm swings: exact for any swing, kept as a table.

The free length of a span from pulley i to j is F = l + (s_i·r_i − s_j·r_j)·ψ, with its heading ψ and the senses s in
which the pulleys turn: what a span loses to a rim as it turns is counted with it, so that the sum over all spans is the
length of the belt. The pull T on a span turns the arm with −T·F′. Wraps follow from the headings, and grip from them.

The table is worked out once and rounded, and read by cubics, so that no processor's own sine comes into the steps.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from triage.drive.mechanics.geometry import BeltPath, Circle, Span, tangent
from triage.drive.mechanics.rotation import Arm

Array = npt.NDArray[np.float64]
CELLS = 240
"""Cells of the table from stop to stop; cubics over 5 mrad leave under a nanometre, a judgement of ours."""
MOST_GRIP = 50.0
"""Largest exponent of a grip that is kept: e⁵⁰ holds anything."""
_DIGITS = 10
"""Decimal places of the table, so that the last bits of a processor's functions are gone."""


@dataclass(frozen=True)
class ArmPath:
    """Cubics over the arm's angle for the growth of its two spans and the grip of three pulleys.

    Args:
        pulley: position of the arm's pulley.
        low_rad: angle of the lower stop against the place in the layout.
        high_rad: of the upper one.
        cubics: shape (4, 5, variants, cells), ascending powers from each cell's beginning; growth of the span before
            and after the arm's pulley [m], then grip of the pulley before, its own, and of the one after [1].
        length_m: of the arm.
    """

    pulley: int
    low_rad: float
    high_rad: float
    cubics: Array
    length_m: float

    @property
    def cell_rad(self) -> float:
        """Width of a cell [rad]."""
        return (self.high_rad - self.low_rad) / CELLS

    def at(self, arm_rad: Array, ahead_rad: Array) -> tuple[Array, Array, Array]:
        """Read the table at angles within the stops.

        Args:
            arm_rad: one angle a variant [rad].
            ahead_rad: how much further the slope and the grip are wanted [rad].

        Returns:
            growth of two spans at the angle and its slope ahead, shape (2, variants), and grip ahead, (3, variants).
        """
        cell = np.minimum(((arm_rad - self.low_rad) / self.cell_rad).astype(np.intp), CELLS - 1)
        over = arm_rad - (self.low_rad + cell * self.cell_rad)
        further = over + ahead_rad
        c0, c1, c2, c3 = self.cubics[:, :, np.arange(len(cell)), cell]
        growth = c0[:2] + over * (c1[:2] + over * (c2[:2] + over * c3[:2]))
        slope = c1[:2] + further * (2 * c2[:2] + further * (3 * c3[:2]))
        grip = c0[2:] + further * (c1[2:] + further * (c2[2:] + further * c3[2:]))
        return growth, slope, grip

    def of(self, column: int) -> "ArmPath":
        """The path of one variant alone."""
        return replace(self, cubics=self.cubics[:, :, [column], :])


def arm_path(route: BeltPath, arm: Arm, wedges: Sequence[tuple[float, ...]], stop_rad: float) -> ArmPath:
    """Follow the arm from stop to stop, or to where its pulley would touch another or one would lose the belt.

    Args:
        route: the belt with the arm where the layout puts it.
        arm: the tensioner's.
        wedges: for each variant n factors of the wrap in the exponent of grip: μ, or μ/sin(groove angle/2) [1].
        stop_rad: angle of either stop [rad].

    Returns:
        the table, angles in [rad].

    Source: beikmann-1996, khurmi
    """
    low, high = (_furthest(route, arm, way * stop_rad) for way in (-1, 1))
    width = (high - low) / CELLS
    places = [_Place(route, arm, low + width * number) for number in range(CELLS + 1)]
    each = {own: _cubics([place.values(own) for place in places], [place.slopes(own) for place in places], width)
            for own in dict.fromkeys(wedges)}
    cubics = np.stack([each[own] for own in wedges], axis=2)
    length_m = math.hypot(*_reach(route, arm))
    return ArmPath(arm.pulley, low, high, cubics, length_m)


def _cubics(at_nodes: list[list[float]], rising: list[list[float]], width: float) -> Array:
    """Hermite's cubic over every cell, in ascending powers of the way into it."""
    values, slopes = (np.round(np.array(one).T, _DIGITS) for one in (at_nodes, rising))
    start, end = values[:, :-1], values[:, 1:]
    leaving, arriving = slopes[:, :-1], slopes[:, 1:]
    rise = (end - start) / width
    second = (3 * rise - 2 * leaving - arriving) / width
    third = (leaving + arriving - 2 * rise) / (width * width)
    return np.array([start, leaving, second, third])


class _Place:
    """The belt around the arm's pulley with the arm at one angle."""

    def __init__(self, route: BeltPath, arm: Arm, angle_rad: float) -> None:
        count = len(route.circles)
        self._route = route
        self.around = (arm.pulley - 1) % count, arm.pulley, (arm.pulley + 1) % count
        self.circles = _swung(route, arm, angle_rad)
        self.spans = tuple(self._span(first, second) for first, second in zip(self.around, self.around[1:], strict=False))
        self._velocity = _velocity(self.circles[arm.pulley], arm)

    def _span(self, first: int, second: int) -> Span:
        turns = self._route.turns
        return tangent(self.circles[first], turns[first], self.circles[second], turns[second])

    @property
    def headings(self) -> list[float]:
        """How far the two spans have turned."""
        rest = (self._route.spans[position].heading_rad for position in self.around[:2])
        return [math.remainder(span.heading_rad - was, math.tau) for span, was in zip(self.spans, rest, strict=True)]

    def wraps(self, headings: list[float]) -> list[float]:
        """What turning spans add to the wraps of the three pulleys."""
        before, after = headings
        turns = [self._route.turns[position] for position in self.around]
        added = [turns[0] * before, turns[1] * (after - before), -turns[2] * after]
        # Over two pulleys the one before is the one after.
        if self.around[0] == self.around[2]:
            added[0] = added[2] = added[0] + added[2]
        return added

    def whole_wraps(self) -> list[float]:
        added = self.wraps(self.headings)
        return [self._route.wraps_rad[position] + more for position, more in zip(self.around, added, strict=True)]

    def values(self, wedges: tuple[float, ...]) -> list[float]:
        growths = []
        for first, second, span, heading in zip(self.around, self.around[1:], self.spans, self.headings, strict=False):
            turns, circles = self._route.turns, self.circles
            taken_up = turns[first] * circles[first].radius_m - turns[second] * circles[second].radius_m
            growths.append(span.length_m - self._route.spans[first].length_m + taken_up * heading)
        return growths + self._grips(wedges)

    def slopes(self, wedges: tuple[float, ...]) -> list[float]:
        vx, vy = self._velocity
        along, across = [], []
        for sign, span in zip((1, -1), self.spans, strict=True):
            ux, uy = math.cos(span.heading_rad), math.sin(span.heading_rad)
            along.append(sign * (ux * vx + uy * vy))
            across.append(sign * (ux * vy - uy * vx) / span.length_m)
        turning = self.wraps(across)
        grips = zip(self.around, self._grips(wedges), turning, strict=True)
        return along + [wedges[position] * grip * rate for position, grip, rate in grips]

    def _grips(self, wedges: tuple[float, ...]) -> list[float]:
        wraps = zip(self.around, self.whole_wraps(), strict=True)
        return [math.exp(min(wedges[position] * max(wrap, 0.0), MOST_GRIP)) for position, wrap in wraps]


def _reach(route: BeltPath, arm: Arm) -> tuple[float, float]:
    own = route.circles[arm.pulley]
    return own.x_m - arm.pivot[0], own.y_m - arm.pivot[1]


def _velocity(own: Circle, arm: Arm) -> tuple[float, float]:
    """Where the arm's pulley goes for a unit turn of the arm."""
    return arm.pivot[1] - own.y_m, own.x_m - arm.pivot[0]


def _swung(route: BeltPath, arm: Arm, angle_rad: float) -> list[Circle]:
    circles = list(route.circles)
    x, y = _reach(route, arm)
    cosine, sine = math.cos(angle_rad), math.sin(angle_rad)
    place = arm.pivot[0] + cosine * x - sine * y, arm.pivot[1] + sine * x + cosine * y
    circles[arm.pulley] = replace(circles[arm.pulley], x_m=place[0], y_m=place[1])
    return circles


def _furthest(route: BeltPath, arm: Arm, stop_rad: float) -> float:
    """How far the arm can swing towards a stop."""
    reached = 0.0
    for number in range(1, CELLS + 1):
        # A cell beyond must be possible too: a step may end a little past the stop before it is set back.
        if not _possible(route, arm, stop_rad * (number + 1) / CELLS):
            break
        reached = stop_rad * number / CELLS
    return reached


def _possible(route: BeltPath, arm: Arm, angle_rad: float) -> bool:
    """Whether the arm's pulley clears all others and the three pulleys of its spans keep the belt."""
    circles = _swung(route, arm, angle_rad)
    own = circles.pop(arm.pulley)
    apart = all(math.hypot(c.x_m - own.x_m, c.y_m - own.y_m) > c.radius_m + own.radius_m for c in circles)
    return apart and min(_Place(route, arm, angle_rad).whole_wraps()) > 0
