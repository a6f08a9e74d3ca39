"""What the engine does to the belt: a crank whose speed is given, with a firing ripple, or one that is let go.

The ripple adds A·sin(order·θ) to the crank's angle; A is given at idle and falls as 1/speed², as an angle does that a
torque of firing shakes against inertia alone. A free crank has compression C·sin(order·θ + π) and friction −M·sign(ω).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
_TERMS = 12
_QUARTER = math.pi / 2


def sine(angle_rad: Array) -> Array:
    """Take the sine by its series, in additions and multiplications alone: the same bits on every processor.

    Args:
        angle_rad: angles of any shape [rad].

    Returns:
        sines to 1e-15, the same shape [1].

    Source: from-memory
    """
    turned = angle_rad - math.tau * np.round(angle_rad / math.tau)
    # sin(π − x) = sin x brings the angle within a quarter turn, where the series is short.
    folded = np.where(turned > _QUARTER, math.pi - turned, np.where(turned < -_QUARTER, -math.pi - turned, turned))
    square, summed = folded * folded, np.ones_like(folded)
    for term in range(_TERMS, 0, -1):
        summed = 1.0 - square / (2 * term * (2 * term + 1)) * summed
    taken: Array = folded * summed
    return taken


@dataclass(frozen=True)
class Course:
    """Mean speed of a crank over time, straight between given points and steady after the last.

    Args:
        times_s: at least one time, ascending from zero.
        speeds_rad_s: the speed at each.
    """

    times_s: Sequence[float]
    speeds_rad_s: Sequence[float]

    def speed(self, time_s: Array) -> Array:
        """Mean speeds at times, any shape [rad/s]."""
        return np.interp(time_s, self.times_s, self.speeds_rad_s)

    def angle(self, time_s: Array) -> Array:
        """Mean angles turned since the start, any shape [rad]."""
        times, speeds = np.asarray(self.times_s), np.asarray(self.speeds_rad_s)
        turned = np.concatenate([[0.0], np.cumsum(np.diff(times) * (speeds[1:] + speeds[:-1]) / 2)])
        section = np.searchsorted(times, time_s, side="right") - 1
        gone = time_s - times[section]
        angles: Array = turned[section] + gone * (speeds[section] + self.speed(time_s)) / 2
        return angles


@dataclass(frozen=True)
class Ripple:
    """The shake of firing on top of a mean speed.

    Args:
        idle_rad: amplitude at idle, zero to peak.
        idle_rad_s: speed of the crank at idle.
        order: firings per turn.
    """

    idle_rad: float
    idle_rad_s: float
    order: float


def crank_speeds(course: Course, ripple: Ripple, step_s: float, first: int, count: int) -> Array:
    """Say how fast a given crank turns in each of some steps, as a mean over the step.

    Args:
        course: its mean speed.
        ripple: the firings.
        step_s: width of a step [s].
        first: number of the first step [1].
        count: how many steps [1].

    Returns:
        one speed a step [rad/s].

    Source: from-memory
    """
    ends: Array = np.arange(first, first + count + 1, dtype=np.float64) * step_s
    mean = course.angle(ends)
    amplitude = ripple.idle_rad * (ripple.idle_rad_s / np.maximum(course.speed(ends), 1e-9)) ** 2
    shaken: Array = np.diff(mean + amplitude * sine(ripple.order * mean)) / step_s
    return shaken


def compression(angle_rad: Array, peak_nm: float, order: float) -> Array:
    """Say what the cylinders do to a crank that nothing drives: C·sin(order·θ + π).

    Args:
        angle_rad: one angle a variant [rad].
        peak_nm: largest torque [N·m].
        order: strokes per turn [1].

    Returns:
        torques in the direction of rotation [N·m].

    Source: from-memory
    """
    pushed: Array = -peak_nm * sine(order * angle_rad)
    return pushed
