"""How a rotor comes to rest by itself: dry drag and windage, t = ∫ J·dω/(M + c·ω²), the tan law."""

import math


def coast_seconds(
    inertia_kg_m2: float, drag_nm: float, windage_nm_s2: float, from_rad_s: float, to_rad_s: float
) -> float:
    """Say how long a rotor takes from one speed to a lower one with no torque but its drag.

    >>> round(coast_seconds(0.0031, 1.02, 0.0, 235.6, 0.0), 3)
    0.716

    Args:
        inertia_kg_m2: inertia of the rotor [kg·m²].
        drag_nm: torque that does not depend on speed [N·m].
        windage_nm_s2: torque over speed squared [N·m·s²].
        from_rad_s: speed at the start [rad/s].
        to_rad_s: speed at the end [rad/s].

    Returns:
        time, endless where nothing brakes [s].

    Source: from-memory
    """
    if windage_nm_s2 == 0:
        return inertia_kg_m2 * (from_rad_s - to_rad_s) / drag_nm if drag_nm > 0 else math.inf
    if drag_nm == 0:
        return inertia_kg_m2 / windage_nm_s2 * (1 / to_rad_s - 1 / from_rad_s) if to_rad_s > 0 else math.inf
    scale = math.sqrt(windage_nm_s2 / drag_nm)
    turned = math.atan(scale * from_rad_s) - math.atan(scale * to_rad_s)
    return inertia_kg_m2 / math.sqrt(drag_nm * windage_nm_s2) * turned
