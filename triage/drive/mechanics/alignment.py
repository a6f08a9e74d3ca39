"""How far out of line two pulleys are, from what a straightedge and a rule can show."""

import math


def entry_angle(offset_m: float, span_m: float) -> float:
    """Turn a sideways offset over a span into the angle at which the belt runs in: atan(o/L).

    Args:
        offset_m: how far one pulley stands forward of the other [m].
        span_m: free length of belt between them [m].

    Returns:
        entry angle, with the sign of the offset [rad].

    Source: sae-1999-01-1709
    """
    return math.atan2(offset_m, span_m)


def tilt_angle(first_gap_m: float, second_gap_m: float, apart_m: float) -> float:
    """Turn two gaps behind a straightedge, read at two heights of one pulley, into its tilt: atan((a − b)/h).

    Args:
        first_gap_m: gap at the first height [m].
        second_gap_m: gap at the second height [m].
        apart_m: distance between the two heights [m].

    Returns:
        tilt, positive when the first gap is the wider one [rad].

    Source: common-practice
    """
    return math.atan2(first_gap_m - second_gap_m, apart_m)
