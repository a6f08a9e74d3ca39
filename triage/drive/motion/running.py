"""Carries a machine through an event and hands on what it did, some steps at a time."""

from collections.abc import Callable, Iterator
from dataclasses import fields
from importlib.util import find_spec
from itertools import pairwise
from typing import Literal

import numpy as np

from triage.drive.motion.events import Event
from triage.drive.motion.laws.crank import crank_speeds
from triage.drive.motion.machine import Array, Machine
from triage.drive.motion.starting import steady
from triage.drive.motion.stepping import SWEEPS, State, Stepper
from triage.drive.motion.stretch import Stretch

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


Kernel = Literal["numpy", "numba"]
"""What carries a machine: rows of numbers, or the same laws compiled, where the compiler is installed."""


def usual_kernel() -> Kernel:
    """The compiled one where its compiler is installed."""
    return "numba" if find_spec("numba") else "numpy"


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


def carried(
    machine: Machine,
    event: Event,
    step_s: float = STEP_S,
    state: State | None = None,
    sweeps: int = SWEEPS,
    kernel: Kernel = "numpy",
) -> Iterator[Stretch]:
    """Carry a machine through an event.

    Args:
        machine: n pulleys and some variants.
        event: what happens.
        step_s: width of a step [s].
        state: where it begins; the steady drive where none is given.
        sweeps: of each step [1].
        kernel: what carries it.

    Returns:
        what it did, some steps at a time, in order [SI].

    Raises:
        UnsettledError: the step is too wide for this drive.

    Source: acary-2008
    """
    begun = state or steady(machine, event.course.speeds_rad_s[0], event.torques_nm[0][1])
    stepper = Stepper(machine, begun, step_s, free_crank=event.free_crank, sweeps=sweeps)
    torques = {round(from_s / step_s): torque_nm for from_s, torque_nm in event.torques_nm}
    steps, still, carry = round(event.seconds / step_s), 0, _carrier(stepper, kernel)
    for first in range(0, steps, AT_ONCE):
        count = min(AT_ONCE, steps - first)
        with np.errstate(all="ignore"):
            stretch = _carry(stepper, event, (first, count), torques, carry)
        if not np.isfinite(stretch.tensions_n).all():
            raise UnsettledError(f"The step of {step_s:g} s is too wide for this drive.")
        yield stretch
        if event.free_crank:
            still = still + count if _comes_to_rest(stretch) else 0
            if still * step_s >= STILL_FOR_S:
                return


Carry = Callable[[Array, Stretch], float]
"""Goes as many steps as there are speeds, fills what happened into rows, and says what was left unsettled [m/s]."""


def _carrier(stepper: Stepper, kernel: Kernel) -> Carry:
    if kernel == "numba":
        from triage.drive.motion.compiled import CompiledSteps

        return CompiledSteps(stepper).carry
    return lambda speeds, kept: _step_by_step(stepper, speeds, kept)


def _carry(stepper: Stepper, event: Event, part: tuple[int, int], torques: dict[int, float], carry: Carry) -> Stretch:
    first, count = part
    n, variants = stepper.machine.inertias_kg_m2.shape
    wide, narrow = (count, n, variants), (count, variants)
    kept = Stretch(
        np.arange(first + 1, first + count + 1, dtype=np.float64) * stepper.step_s,
        *(np.empty(wide) for _ in range(3)),
        *(np.empty(narrow) for _ in range(4)),
    )
    speeds = np.zeros(count)
    if not event.free_crank:
        speeds = crank_speeds(event.course, event.ripple, stepper.step_s, first, count)
    changes = sorted({0, *(at - first for at in torques if first <= at < first + count), count})
    for begun, ended in pairwise(changes):
        if first + begun in torques:
            stepper.set_rotor_load(torques[first + begun])
        unsettled = carry(speeds[begun:ended], _rows(kept, begun, ended))
        # What is no number is not less than anything, and is found here too.
        if not unsettled < MOST_UNSETTLED_M_S:
            raise UnsettledError(f"The step of {stepper.step_s:g} s is too wide for this drive.")
    return kept


def _rows(kept: Stretch, begun: int, ended: int) -> Stretch:
    """A view of some steps."""
    return Stretch(*(getattr(kept, field.name)[begun:ended] for field in fields(Stretch)))


def _step_by_step(stepper: Stepper, speeds: Array, kept: Stretch) -> float:
    for at, speed in enumerate(speeds.tolist()):
        stepper.step(speed)
        if not stepper.unsettled_m_s < MOST_UNSETTLED_M_S:
            break
        state = stepper.state
        kept.tensions_n[at], kept.slip_m_s[at] = stepper.tensions_n, stepper.slip_m_s
        kept.pulleys_rad_s[at], kept.arm_rad[at], kept.rotor_rad_s[at] = (
            state.pulleys_rad_s,
            state.arm_rad,
            state.rotor_rad_s,
        )
        kept.slide_rad_s[at], kept.joint_nm[at] = stepper.slide_rad_s, stepper.joint_nm
    return stepper.unsettled_m_s


def _comes_to_rest(stretch: Stretch) -> bool:
    """Whether the belt stands, and each rotor stands or runs free of its ring, so that the tan law has the rest."""
    if np.abs(stretch.pulleys_rad_s).max() >= STILL_RAD_S:
        return False
    standing = (np.abs(stretch.rotor_rad_s) < STILL_RAD_S).all(axis=0)
    free = (stretch.slide_rad_s < 0).all(axis=0)
    return bool((standing | free).all())
