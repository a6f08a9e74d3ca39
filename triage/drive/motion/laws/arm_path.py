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

from triage.drive.mechanics.arm import Arm, arm_motion, arm_spans, turned
from triage.drive.mechanics.geometry import BeltPath, BeltRouteError

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
        # What a runaway has made of an angle is kept within the table: it is found out soon after.
        cell = np.clip(((arm_rad - self.low_rad) / self.cell_rad).astype(np.intp), 0, CELLS - 1)
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
    each = {
        own: _cubics([place.values(own) for place in places], [place.slopes(own) for place in places], width)
        for own in dict.fromkeys(wedges)
    }
    cubics = np.stack([each[own] for own in wedges], axis=2)
    own = route.circles[arm.pulley]
    length_m = math.dist((own.x_m, own.y_m), arm.pivot)
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

    def __init__(self, rest: BeltPath, arm: Arm, angle_rad: float) -> None:
        self._rest, self._arm = rest, arm
        self._path = turned(rest, arm, angle_rad)
        count = len(rest.circles)
        self.around = (arm.pulley - 1) % count, arm.pulley, (arm.pulley + 1) % count
        self._headings = [
            math.remainder(self._path.spans[span].heading_rad - rest.spans[span].heading_rad, math.tau)
            for span in self.around[:2]
        ]

    def values(self, wedges: tuple[float, ...]) -> list[float]:
        """Growth of the two spans and grip of the three pulleys."""
        rims = [turn * circle.radius_m for turn, circle in zip(self._path.turns, self._path.circles, strict=True)]
        growths = [
            self._path.spans[first].length_m - self._rest.spans[first].length_m + (rims[first] - rims[second]) * heading
            for first, second, heading in zip(self.around, self.around[1:], self._headings, strict=False)
        ]
        return growths + self._grips(wedges)

    def slopes(self, wedges: tuple[float, ...]) -> list[float]:
        """How fast they change with the angle."""
        along, across = [], []
        for span, sign in arm_spans(self._path, self._arm):
            with_it, aside = arm_motion(self._path, self._arm, span)
            along.append(sign * with_it)
            across.append(sign * aside / self._path.spans[span].length_m)
        grips = zip(self.around, self._grips(wedges), self._wrapped(across), strict=True)
        return along + [wedges[position] * grip * rate for position, grip, rate in grips]

    def wraps(self) -> list[float]:
        """Wraps of the three pulleys; below zero where one has lost the belt."""
        added = zip(self.around, self._wrapped(self._headings), strict=True)
        return [self._rest.wraps_rad[position] + more for position, more in added]

    def _wrapped(self, headings: list[float]) -> list[float]:
        """What turning spans add to the wraps of the three pulleys."""
        before, after = headings
        turns = [self._rest.turns[position] for position in self.around]
        added = [turns[0] * before, turns[1] * (after - before), -turns[2] * after]
        # Over two pulleys the one before is the one after.
        if self.around[0] == self.around[2]:
            added[0] = added[2] = added[0] + added[2]
        return added

    def _grips(self, wedges: tuple[float, ...]) -> list[float]:
        wraps = zip(self.around, self.wraps(), strict=True)
        return [math.exp(min(wedges[position] * max(wrap, 0.0), MOST_GRIP)) for position, wrap in wraps]


def _furthest(rest: BeltPath, arm: Arm, stop_rad: float) -> float:
    """How far the arm can swing towards a stop."""
    reached = 0.0
    for number in range(1, CELLS + 1):
        # A cell beyond must be possible too: a cubic is read a little past its end.
        if not _possible(rest, arm, stop_rad * (number + 1) / CELLS):
            break
        reached = stop_rad * number / CELLS
    return reached


def _possible(rest: BeltPath, arm: Arm, angle_rad: float) -> bool:
    """Whether the arm's pulley clears all others and the three pulleys of its spans keep the belt."""
    try:
        return min(_Place(rest, arm, angle_rad).wraps()) > 0
    except BeltRouteError:
        return False
