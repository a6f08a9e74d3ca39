"""Carries a machine through an event and hands on what it did, some steps at a time."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from triage.drive.motion.events import Event
from triage.drive.motion.laws.crank import crank_speeds
from triage.drive.motion.machine import Array, Machine
from triage.drive.motion.starting import steady
from triage.drive.motion.stepping import SWEEPS, State, Stepper

STEP_S = 2e-4
"""Widest step; halving it changes published figures by under one percent."""
FIRING_RAD = 0.15
"""How much of a firing's phase a step may take: the midpoint rule is then true to 0.2 % of a frequency."""
MOST_UNSETTLED_M_S = 0.02
"""What the last sweep of a step may still change in a rim's speed; a judgement of ours, 0.1 % of a belt's speed."""
AT_ONCE = 500
"""Steps between two looks at what came out."""
STILL_RAD_S = 2.0
"""A shaft that stays under this stands."""
STILL_FOR_S = 0.25
"""How long everything has to stand before a run ends early; a judgement of ours."""


class UnsettledError(ValueError):
    """The sweeps of a step did not come to an end, or figures grew without one: the step is too wide for the drive."""


def step_for(event: Event, ripple_order: float) -> float:
    """Choose the width of a step so that it follows the firings.

    Args:
        event: what happens.
        ripple_order: firings per turn [1].

    Returns:
        the widest step or a half, a quarter, … of it [s].

    Source: from-memory
    """
    fastest, step_s = max(event.course.speeds_rad_s) * ripple_order, STEP_S
    while fastest * step_s > FIRING_RAD:
        step_s /= 2
    return step_s


@dataclass(frozen=True)
class Stretch:
    """What a machine did in some steps; k steps, n pulleys, one column a variant.

    Args:
        ends_s: times at the ends of the steps, shape (k,).
        tensions_n: of the spans in the middle of each step, shape (k, n, variants).
        slip_m_s: of the belt over each rim in each step, likewise.
        pulleys_rad_s: speeds at the ends, likewise.
        arm_rad: angles of the arm at the ends, shape (k, variants).
        rotor_rad_s: speeds of the rotor at the ends, likewise.
        slide_rad_s: how fast the joint's slider let go in each step, below zero where the rotor runs ahead, likewise.
        joint_nm: torque from ring to rotor in each step, likewise.
    """

    ends_s: Array
    tensions_n: Array
    slip_m_s: Array
    pulleys_rad_s: Array
    arm_rad: Array
    rotor_rad_s: Array
    slide_rad_s: Array
    joint_nm: Array


def carried(
    machine: Machine, event: Event, step_s: float = STEP_S, state: State | None = None, sweeps: int = SWEEPS
) -> Iterator[Stretch]:
    """Carry a machine through an event.

    Args:
        machine: n pulleys and some variants.
        event: what happens.
        step_s: width of a step [s].
        state: where it begins; the steady drive where none is given.
        sweeps: of each step [1].

    Returns:
        what it did, some steps at a time, in order [SI].

    Raises:
        UnsettledError: the step is too wide for this drive.

    Source: acary-2008
    """
    begun = state or steady(machine, event.course.speeds_rad_s[0], event.torques_nm[0][1])
    stepper = Stepper(machine, begun, step_s, free_crank=event.free_crank, sweeps=sweeps)
    torques = {round(from_s / step_s): torque_nm for from_s, torque_nm in event.torques_nm}
    steps, still = round(event.seconds / step_s), 0
    for first in range(0, steps, AT_ONCE):
        count = min(AT_ONCE, steps - first)
        with np.errstate(all="ignore"):
            stretch = _carry(stepper, event, first, count, torques)
        if not np.isfinite(stretch.tensions_n).all():
            raise UnsettledError(f"The step of {step_s:g} s is too wide for this drive.")
        yield stretch
        if event.free_crank:
            still = still + count if _comes_to_rest(stretch) else 0
            if still * step_s >= STILL_FOR_S:
                return


def _carry(stepper: Stepper, event: Event, first: int, count: int, torques: dict[int, float]) -> Stretch:
    n, variants = stepper.machine.inertias_kg_m2.shape
    wide, narrow = (count, n, variants), (count, variants)
    kept = Stretch(
        np.arange(first + 1, first + count + 1, dtype=np.float64) * stepper.step_s,
        *(np.empty(wide) for _ in range(3)),
        *(np.empty(narrow) for _ in range(4)),
    )
    speeds = [0.0] * count
    if not event.free_crank:
        speeds = crank_speeds(event.course, event.ripple, stepper.step_s, first, count).tolist()
    for at in range(count):
        if first + at in torques:
            stepper.set_rotor_load(torques[first + at])
        stepper.step(speeds[at])
        # What is no number is not less than anything, and is found here too.
        if not stepper.unsettled_m_s < MOST_UNSETTLED_M_S:
            raise UnsettledError(f"The step of {stepper.step_s:g} s is too wide for this drive.")
        state = stepper.state
        kept.tensions_n[at], kept.slip_m_s[at] = stepper.tensions_n, stepper.slip_m_s
        kept.pulleys_rad_s[at], kept.arm_rad[at], kept.rotor_rad_s[at] = (
            state.pulleys_rad_s,
            state.arm_rad,
            state.rotor_rad_s,
        )
        kept.slide_rad_s[at], kept.joint_nm[at] = stepper.slide_rad_s, stepper.joint_nm
    return kept


def _comes_to_rest(stretch: Stretch) -> bool:
    """Whether the belt stands, and each rotor stands or runs free of its ring, so that the tan law has the rest."""
    if np.abs(stretch.pulleys_rad_s).max() >= STILL_RAD_S:
        return False
    standing = (np.abs(stretch.rotor_rad_s) < STILL_RAD_S).all(axis=0)
    free = (stretch.slide_rad_s < 0).all(axis=0)
    return bool((standing | free).all())
