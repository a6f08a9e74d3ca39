"""Where a drive settles that runs steadily: the tensions and the arm's angle from which an event starts.

Leaving a pulley that takes torque M the belt pulls harder by M/r. The level follows from the belt's length, which the
arm's angle sets, Σ l·(T − P)/EA = L(arm) − L(0), and the arm stands where its spring balances the belt's pull net of
m·v². Friction of the arm is left out: ripple shakes it to the middle of where it could stick.
"""

import math

import numpy as np

from triage.drive.motion.laws.arm_path import ArmPath
from triage.drive.motion.machine import Array, Machine

_HALVINGS = 60
_LOOKS = 240


def settled(machine: Machine, torques_nm: Array, own_n: float) -> tuple[Array, Array]:
    """Find tensions and arm of a steady drive.

    Args:
        machine: n pulleys and some variants.
        torques_nm: what the belt gives each pulley, shape (n, variants), the crank's not used [N·m].
        own_n: m·v² [N].

    Returns:
        tensions, shape (n, variants), below zero where a load is too much for the drive, in [N], and the arm's angles
        against its place in the layout, one a variant [rad].

    Source: beikmann-1996, khurmi
    """
    steps = np.cumsum(np.concatenate([np.zeros_like(torques_nm[:1]), (torques_nm / machine.radii_m)[1:]]), axis=0)
    angles = np.zeros(len(machine.variants))
    if machine.paths is not None:
        for column in range(len(angles)):
            angles[column] = _balanced(machine, column, machine.paths.of(column), steps[:, column], own_n)
    tensions = np.array([_tensions(machine, column, steps[:, column], angles[column]) for column in range(len(angles))])
    return tensions.T, angles


def _tensions(machine: Machine, column: int, steps: Array, angle_rad: float) -> Array:
    """Tensions with the belt's length as the arm's angle leaves it."""
    grown_m = 0.0
    if machine.paths is not None:
        growth, _, _ = machine.paths.of(column).at(np.array([angle_rad]), np.zeros(1))
        grown_m = math.fsum(growth[:, 0])
    give = 1.0 / machine.rates_n_m[:, 0]
    level = (grown_m - math.fsum(give * (steps - machine.rest_n))) / math.fsum(give)
    tensions: Array = steps + level
    return tensions


def _torque(machine: Machine, column: int, path: ArmPath, steps: Array, own_n: float, angle_rad: float) -> float:
    """What turns the arm: its spring against the belt."""
    _, slope, _ = path.at(np.array([angle_rad]), np.zeros(1))
    before, after = (path.pulley - 1) % len(steps), path.pulley
    tensions = np.maximum(_tensions(machine, column, steps, angle_rad), 0.0)
    pulled = (tensions[before] - own_n) * slope[0, 0] + (tensions[after] - own_n) * slope[1, 0]
    spring = machine.pretension_nm[column] - machine.arm_rate_nm_rad[column] * angle_rad
    return float(spring - pulled)


def _balanced(machine: Machine, column: int, path: ArmPath, steps: Array, own_n: float) -> float:
    """The angle nearest to the layout's at which the arm stands still, or the stop that it is pushed against."""

    def torque(angle_rad: float) -> float:
        return _torque(machine, column, path, steps, own_n, angle_rad)

    start = torque(0.0)
    if start == 0:
        return 0.0
    stop = path.high_rad if start > 0 else path.low_rad
    inner = 0.0
    for look in range(1, _LOOKS + 1):
        outer = stop * look / _LOOKS
        if torque(outer) * start <= 0:
            break
        inner = outer
    else:
        return stop
    for _ in range(_HALVINGS):
        middle = (inner + outer) / 2
        inner, outer = (middle, outer) if torque(middle) * start > 0 else (inner, middle)
    return (inner + outer) / 2
