"""What the four pulley types let through while the engine drives and while it slows.

Mean torques only: the ripple of single firings, which springs and clutches are there for, belongs to a simulation in
time. For mean torque an isolator's spring passes on all that it is given, both ways, so it counts like a solid pulley.
A clutch holds one way and lets the rotor run ahead the other way; a decoupler too, with a little drag.
"""

import math

from triage.knowledge.models import PulleyType

SPRINGLESS: tuple[PulleyType, ...] = ("solid", "one-way-clutch")
"""Types that have no spring between ring and rotor; a clutch with one is a decoupler."""


ROTOR_DRAG_NM = 0.06
"""Drag of an alternator's own bearings and brushes with its field off; from memory."""


def reversal_deceleration(load_nm: float, rotor_kg_m2: float, speed_ratio: float) -> float:
    """Say how fast the crank must slow for the rotor to start driving the belt: Q/(J·i).

    Args:
        load_nm: torque that the alternator takes [N·m].
        rotor_kg_m2: inertia of the rotor [kg·m²].
        speed_ratio: speed of the rotor over speed of the crank [1].

    Returns:
        deceleration of the crank, in revolutions per second lost each second [rev/s²].

    Source: beikmann-1996
    """
    return load_nm / (rotor_kg_m2 * speed_ratio) / (2 * math.pi)


def passed_torque(
    pulley: PulleyType, load_nm: float, rotor_kg_m2: float, slowing_rad_s2: float, drag_nm: float
) -> float:
    """Say which mean torque a pulley passes from its ring to its rotor while the ring slows.

    Args:
        pulley: which of the four types.
        load_nm: torque that the alternator takes [N·m].
        rotor_kg_m2: inertia behind the clutch, or of the whole rotor where there is none [kg·m²].
        slowing_rad_s2: rate at which the ring loses speed [rad/s²].
        drag_nm: drag of a decoupler that overruns [N·m].

    Returns:
        torque from ring to rotor, negative where the rotor drives the ring [N·m].

    Source: from-memory
    """
    asked_nm = load_nm - rotor_kg_m2 * slowing_rad_s2
    match pulley:
        case "solid" | "isolator":
            return asked_nm
        case "one-way-clutch":
            return max(asked_nm, 0.0)
        case "decoupler":
            return max(asked_nm, -drag_nm)
