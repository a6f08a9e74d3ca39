"""A tensioner's arm: how it takes belt up as it turns, and where its spring and the belt's tension balance it.

A spring pushes the arm the way in which the belt's path L grows. At rest, where the layout puts it, its torque is
P·dL/da. Running, span i pulls with T_i − m·v², because so much of its tension only holds the
belt on its curve. Dry friction of the arm is left out: a real arm may stand anywhere between two such places.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from triage.drive.mechanics.geometry import BeltPath, BeltRouteError, Point, follow_belt

ARM_STOP_RAD = 0.6
"""How far an arm turns from where the layout puts it, either way; from memory."""
ARM_FRICTION_NM = 4.0
"""Dry friction of a tensioner's arm, either way; from memory."""
_LEAST_TAKE_UP = 1e-6
"""Belt taken up for each turn, over the arm's length: below it the arm moves along the belt and holds nothing."""
_STEPS = 60
_CLOSE_RAD = 1e-13

Residual = Callable[[float], float]


class UnsteadyArmError(ValueError):
    """The tensioner arm has no place, or none where it would stay: its spring is too weak, or no belt keeps it."""


@dataclass(frozen=True)
class Arm:
    """A tensioner: a pulley on an arm that a torsion spring pushes against the belt.

    The inertia is the arm's about its pivot with the pulley's mass on it; the pulley's own turning counts apart.
    """

    pulley: int
    pivot: Point
    inertia_kg_m2: float
    stiffness_nm_rad: float


@dataclass(frozen=True)
class Pulled:
    """What pulls at a drive with n spans.

    Args:
        steps_n: n differences of tension from the span that leaves the crank.
        rest_n: tension of every span at rest, the arm where the layout puts it.
        own_n: share of tension that only holds the belt on its curve, m·v².
        stiffness_n: tension over strain; none for a belt that does not stretch.
        held_nm: torque that holds the arm back from where the belt's path grows, such as its dry friction.
    """

    steps_n: tuple[float, ...]
    rest_n: float
    own_n: float
    stiffness_n: float | None
    held_nm: float = 0.0


@dataclass(frozen=True)
class Balance:
    """Where an arm stands, from where the layout puts it, and the tension that every span has then."""

    turn_rad: float
    tensions_n: tuple[float, ...]
    route: BeltPath


def arm_spans(route: BeltPath, arm: Arm) -> tuple[tuple[int, int], tuple[int, int]]:
    """Name the spans at the arm's pulley: the one that runs to it grows as it moves along, the one that leaves shrinks.

    Args:
        route: path over n pulleys.
        arm: with its pulley among them.

    Returns:
        position and sign of each [1].

    Source: beikmann-1996
    """
    return ((arm.pulley - 1) % len(route.circles), 1), (arm.pulley, -1)


def arm_motion(route: BeltPath, arm: Arm, span: int) -> Point:
    """Find the velocity of the arm's pulley for a unit turn of the arm, counter-clockwise.

    Args:
        route: path over n pulleys.
        arm: with its pulley among them.
        span: position of the span that it is measured by [1].

    Returns:
        along the span and across it [m/rad].

    Source: beikmann-1996
    """
    circle = route.circles[arm.pulley]
    vx, vy = -(circle.y_m - arm.pivot[1]), circle.x_m - arm.pivot[0]
    heading = route.spans[span].heading_rad
    ux, uy = math.cos(heading), math.sin(heading)
    return ux * vx + uy * vy, -uy * vx + ux * vy


def take_up(route: BeltPath, arm: Arm) -> float:
    """Say how much the way round grows for a unit turn of the arm, counter-clockwise.

    Args:
        route: path over n pulleys.
        arm: with its pulley among them.

    Returns:
        growth, negative where the other turn makes it longer [m/rad].

    Source: beikmann-1996
    """
    return sum(sign * arm_motion(route, arm, span)[0] for span, sign in arm_spans(route, arm))


def turned(route: BeltPath, arm: Arm, turn_rad: float) -> BeltPath:
    """Turn the arm with its pulley and let the belt follow.

    Args:
        route: path with the arm where the layout puts it.
        arm: with its pulley among the circles.
        turn_rad: from there, counter-clockwise [rad].

    Returns:
        the belt's path then.

    Raises:
        BeltRouteError: pulleys stand in one another.

    Source: shigley
    """
    circles = list(route.circles)
    circle = circles[arm.pulley]
    dx, dy = circle.x_m - arm.pivot[0], circle.y_m - arm.pivot[1]
    cosine, sine = math.cos(turn_rad), math.sin(turn_rad)
    circles[arm.pulley] = replace(
        circle, x_m=arm.pivot[0] + dx * cosine - dy * sine, y_m=arm.pivot[1] + dx * sine + dy * cosine
    )
    sense = -route.turns[0] if circles[0].on_back else route.turns[0]
    return follow_belt(circles, sense)


def fitting_turn(route: BeltPath, arm: Arm, length_m: float) -> float | None:
    """Find the turn of the arm at which the way round has a given length.

    Args:
        route: path with the arm where the layout puts it.
        arm: with its pulley among the circles.
        length_m: along the cord [m].

    Returns:
        turn from where the layout puts it, counter-clockwise; none where no turn up to a stop gives it [rad].

    Source: shigley
    """
    return _root(lambda turn: turned(route, arm, turn).length_m - length_m, take_up(route, arm))


def balance(route: BeltPath, arm: Arm, pulled: Pulled) -> Balance:
    """Find where the arm comes to rest under what pulls at the drive.

    The belt's length decides the level: Σ(T_i − P)·l_i/EA = L(a) − L(0). At the arm
    Σ(T_i − m·v²)·∂L_i/∂a = P·dL/da at rest − k·a.

    Args:
        route: path with the arm where the layout puts it.
        arm: with its pulley among the circles.
        pulled: n steps of tension and what else pulls.

    Returns:
        the arm's turn in [rad] and n tensions in [N]; a negative one means that the span goes slack.

    Raises:
        UnsteadyArmError: no turn up to a stop balances it.

    Source: beikmann-1996
    """
    preload_nm = pulled.rest_n * take_up(route, arm)
    if pulled.stiffness_n is None:
        return Balance(0.0, _without_stretch(route, arm, pulled, preload_nm), route)
    grows = math.copysign(1.0, take_up(route, arm))

    def residual_nm(turn_rad: float) -> float:
        path = turned(route, arm, turn_rad)
        pull_nm = _pull(path, arm, _level(route, path, pulled), pulled.own_n)
        return pull_nm + arm.stiffness_nm_rad * turn_rad - preload_nm + grows * pulled.held_nm

    # More turn, more pull: with a positive residual the arm goes back.
    turn_rad = _root(residual_nm, 1.0)
    if turn_rad is None:
        raise UnsteadyArmError(
            f"The tensioner's arm finds no balance within {ARM_STOP_RAD} rad of where the layout puts it."
        )
    path = turned(route, arm, turn_rad)
    return Balance(turn_rad, _level(route, path, pulled), path)


def _without_stretch(route: BeltPath, arm: Arm, pulled: Pulled, preload_nm: float) -> tuple[float, ...]:
    circle = route.circles[arm.pulley]
    length_m = math.dist((circle.x_m, circle.y_m), arm.pivot)
    taken_m = take_up(route, arm)
    if abs(taken_m) < _LEAST_TAKE_UP * length_m:
        raise UnsteadyArmError("The tensioner's arm moves along the belt, so it holds no tension.")
    offset_nm = _pull(route, arm, pulled.steps_n, pulled.own_n)
    level_n = (preload_nm - math.copysign(pulled.held_nm, taken_m) - offset_nm) / taken_m
    return tuple(level_n + step for step in pulled.steps_n)


def _level(rest: BeltPath, path: BeltPath, pulled: Pulled) -> tuple[float, ...]:
    lengths = [span.length_m for span in path.spans]
    stretch = (pulled.stiffness_n or 0.0) * (path.length_m - rest.length_m)
    wanted = sum((pulled.rest_n - step) * length for step, length in zip(pulled.steps_n, lengths, strict=True))
    level_n = (stretch + wanted) / sum(lengths)
    return tuple(level_n + step for step in pulled.steps_n)


def _pull(path: BeltPath, arm: Arm, tensions_n: Sequence[float], own_n: float) -> float:
    """Torque with which the spans turn the arm back, positive counter-clockwise against growth."""
    return sum(
        sign * arm_motion(path, arm, span)[0] * (tensions_n[span] - own_n) for span, sign in arm_spans(path, arm)
    )


def _root(residual: Residual, slope: float) -> float | None:
    """The turn nearest to none at which a residual that rises with `slope` is nothing."""
    start = residual(0.0)
    if start == 0:
        return 0.0
    way = -math.copysign(1.0, start) * math.copysign(1.0, slope)
    near, far = 0.0, 0.0
    steps = 30
    for step in range(1, steps + 1):
        near, far = far, way * ARM_STOP_RAD * step / steps
        try:
            if residual(far) * start <= 0:
                return _between(residual, near, far)
        except BeltRouteError:
            return None
    return None


def _between(residual: Residual, near: float, far: float) -> float:
    """Between two ends of different sign, by false position; the end that stays counts half (Illinois)."""
    at_near, at_far = residual(near), residual(far)
    for _ in range(_STEPS):
        if at_far == 0 or abs(far - near) < _CLOSE_RAD:
            break
        middle = far - at_far * (far - near) / (at_far - at_near)
        at_middle = residual(middle)
        if at_middle * at_far < 0:
            near, at_near = far, at_far
        else:
            at_near /= 2
        far, at_far = middle, at_middle
    return far
