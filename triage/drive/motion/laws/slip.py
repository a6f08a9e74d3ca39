"""Slip of the belt on a pulley as plastic flow: none below the limit of grip, at the limit as much as keeps it there.

The limit is T₁ − m·v² = (T₂ − m·v²)·e^(μφ) with the wrap φ as it is now. A side that has less than m·v² presses on
nothing, and then both sides are alike.
"""

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Rows = slice | list[int]


def beyond_grip(before_n: Array, after_n: Array, own_n: Array, grip: Array) -> tuple[Array, Array]:
    """Say by how much the pulls beside a pulley differ more than its grip can hold, either way.

    Args:
        before_n: n tensions of the spans that run onto the pulleys [N].
        after_n: n tensions of the spans that leave them [N].
        own_n: m·v², one a variant [N].
        grip: n ratios of tension that the wraps hold, e^(μφ) [1].

    Returns:
        excess of the pull after over what holds, and of the pull before; above zero where the belt must slip [N].

    Source: khurmi
    """
    difference = after_n - before_n
    holding = grip - 1.0
    forward = difference - holding * np.maximum(before_n - own_n, 0.0)
    backward = -difference - holding * np.maximum(after_n - own_n, 0.0)
    return forward, backward


def slips_now(before_n: Array, after_n: Array, own_n: Array, grip: Array) -> bool:
    """Say whether the belt must slip anywhere.

    Args:
        before_n: n tensions of the spans that run onto the pulleys [N].
        after_n: n tensions of the spans that leave them [N].
        own_n: m·v², one a variant [N].
        grip: n ratios of tension that the wraps hold [1].

    Returns:
        whether a pull beside any pulley differs more than grip holds [1].

    Source: khurmi
    """
    pressing = np.maximum(np.minimum(before_n, after_n) - own_n, 0.0)
    return bool((np.abs(after_n - before_n) - (grip - 1.0) * pressing).max() > 0)


def slip_now(
    slip_m_s: float, sides_n: tuple[float, float], gives: tuple[float, float], own_n: float, grip: float
) -> float:
    """Correct a speed of slip by one projection, so that the excess goes and slip never helps the motion.

    Args:
        slip_m_s: speed of the belt over the rim, forward positive [m/s].
        sides_n: tension of the span before and after [N].
        gives: what the span before gains in tension with the speed of slip, and the span after loses [N·s/m].
        own_n: m·v² [N].
        grip: ratio of tension that the wrap holds [1].

    Returns:
        speed [m/s].

    Source: acary-2008
    """
    before_n, after_n = sides_n
    holding = grip - 1.0
    forward = after_n - before_n - holding * max(before_n - own_n, 0.0)
    backward = before_n - after_n - holding * max(after_n - own_n, 0.0)
    ahead = max(slip_m_s, 0.0) + forward / (gives[1] + grip * gives[0])
    back = max(-slip_m_s, 0.0) + backward / (gives[0] + grip * gives[1])
    return max(ahead, 0.0) - max(back, 0.0)
