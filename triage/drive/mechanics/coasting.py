"""How long a rotor runs on by itself: its inertia, its drag and the air that it stirs are one law.

J·dω/dt = −M − c·ω². Without air t = J·ω/M; with it t = J/√(M·c)·atan(ω·√(c/M)).
"""

import math

ROTOR_WINDAGE_NMS2 = 5e-7
"""Torque of the air in an alternator's fan over the square of its speed; from memory."""
_STEPS = 100
_LEAST_SHARE = 1e-12
"""Of the torque that would stop a rotor without air: what is left where air stops it nearly alone."""


def coast_time(inertia_kg_m2: float, speed_rad_s: float, drag_nm: float, windage_nms2: float) -> float:
    """Say how long a free rotor takes to stand.

    Args:
        inertia_kg_m2: of all that runs on [kg·m²].
        speed_rad_s: from which it does [rad/s].
        drag_nm: torque that is the same at any speed [N·m].
        windage_nms2: torque of the air over the square of the speed [N·m·s²].

    Returns:
        time from then until it stands [s].

    Source: from-memory
    """
    # With little air, or none, the arc and its argument are the same to all digits.
    swept = speed_rad_s * math.sqrt(windage_nms2 / drag_nm)
    tiny = 1e-6
    return inertia_kg_m2 * speed_rad_s / drag_nm * (math.atan(swept) / swept if swept > tiny else 1.0)


def coast_drag(inertia_kg_m2: float, speed_rad_s: float, time_s: float, windage_nms2: float) -> float:
    """Say which drag lets a free rotor coast for a given time.

    Args:
        inertia_kg_m2: of all that runs on [kg·m²].
        speed_rad_s: from which it does [rad/s].
        time_s: until it stands [s].
        windage_nms2: torque of the air over the square of the speed [N·m·s²].

    Returns:
        torque that is the same at any speed [N·m].

    Source: from-memory
    """
    # Without air the drag would be the whole of it; air leaves less, and however little, some: halved on a log scale.
    most_nm = inertia_kg_m2 * speed_rad_s / time_s
    least_nm = most_nm * _LEAST_SHARE
    for _ in range(_STEPS):
        middle_nm = math.sqrt(least_nm * most_nm)
        if coast_time(inertia_kg_m2, speed_rad_s, middle_nm, windage_nms2) > time_s:
            least_nm = middle_nm
        else:
            most_nm = middle_nm
    return math.sqrt(least_nm * most_nm)
