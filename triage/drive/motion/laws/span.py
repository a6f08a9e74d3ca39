"""A span of belt as a spring with damping that can only pull, and the creep of an elastic belt over its pulleys."""

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def tension(slack_free_n: Array) -> Array:
    """A belt pulls and never pushes: T = max(0, P + EA/l·(e + β·ė)).

    Args:
        slack_free_n: what spring and damping would give if they could push as well, any shape [N].

    Returns:
        tensions, the same shape [N].

    Source: beikmann-1996
    """
    pulled: Array = np.maximum(slack_free_n, 0.0)
    return pulled


def creep(belt_m_s: Array, before_n: Array, tension_n: Array, stiffness_n: float) -> Array:
    """Say how fast a span grows because the belt leaves a pulley less stretched than it came: v·(T_before − T)/EA.

    Args:
        belt_m_s: speed of the belt, one a variant; nothing where it runs backwards [m/s].
        before_n: n tensions of the spans before [N].
        tension_n: n tensions [N].
        stiffness_n: tension over strain of the belt [N].

    Returns:
        n speeds [m/s].

    Source: khurmi
    """
    grown: Array = np.maximum(belt_m_s, 0.0) * (before_n - tension_n) / stiffness_n
    return grown
