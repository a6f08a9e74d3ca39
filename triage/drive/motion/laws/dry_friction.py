"""Dry friction as it is: any torque up to its limit where nothing moves, the whole limit against what moves.

No smoothed curve stands in for it, so what sticks stands still and does not creep. The torque that is on is corrected
by what it would take to stop the motion within the step, and cut to its limit: one projection of a Gauss-Seidel sweep.
"""

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def held(torque_nm: Array, end_rad_s: Array, stopping_nm_s: Array, limit_nm: Array) -> Array:
    """Correct a friction torque by one projection: clip(λ + ω·d, ±limit).

    Args:
        torque_nm: n torques against the motion as they are now [N·m].
        end_rad_s: n speeds that they would leave at the end of the step [rad/s].
        stopping_nm_s: n torques that change that speed by one [N·m·s].
        limit_nm: n limits, none below zero [N·m].

    Returns:
        n torques, within the limits only where the motion ends [N·m].

    Source: acary-2008
    """
    wanted: Array = torque_nm + end_rad_s * stopping_nm_s
    return np.minimum(np.maximum(wanted, -limit_nm), limit_nm)


def stuck(torque_nm: Array, limit_nm: Array) -> npt.NDArray[np.bool_]:
    """Say where friction holds: it has not reached its limit.

    Args:
        torque_nm: n torques against the motion [N·m].
        limit_nm: n limits [N·m].

    Returns:
        n answers, never true where there is no friction [1].

    Source: acary-2008
    """
    holds: npt.NDArray[np.bool_] = np.abs(torque_nm) < limit_nm
    return holds
