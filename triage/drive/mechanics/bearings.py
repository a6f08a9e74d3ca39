"""How often a mark in a rolling bearing is struck, from its inner geometry and the speed of one ring against the other.

r = (d/D)·cos α throughout, with d the element's diameter, D the pitch diameter and α the contact angle. The rate at
which elements pass a spot of either race does not depend on which ring turns, only on how fast the rings turn against
each other. What changes with the turning ring is the cage's own speed, and which race carries its mark through the
loaded zone and so comes and goes in loudness. Elements that slide a little make recorded rates up to about 1.5 %
lower. Inner geometry is not standardised: it comes from the bearing's maker.
"""

import math


def outer_race_rate(elements: float, element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    """Say how often elements pass one spot of the outer race: n/2·(1 − r)·speed.

    Args:
        elements: number of rolling elements [1].
        element_m: diameter of an element [m].
        pitch_m: diameter of the circle through the elements' centres [m].
        contact_rad: contact angle [rad].
        speed_rev_s: speed of one ring against the other [rev/s].

    Returns:
        strikes per second [Hz].

    Source: cwru-bearings, qiu-2006
    """
    return elements / 2 * (1 - _roll(element_m, pitch_m, contact_rad)) * speed_rev_s


def inner_race_rate(elements: float, element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    """Say how often elements pass one spot of the inner race: n/2·(1 + r)·speed.

    Args:
        elements: number of rolling elements [1].
        element_m: diameter of an element [m].
        pitch_m: diameter of the circle through the elements' centres [m].
        contact_rad: contact angle [rad].
        speed_rev_s: speed of one ring against the other [rev/s].

    Returns:
        strikes per second [Hz].

    Source: cwru-bearings, qiu-2006
    """
    return elements / 2 * (1 + _roll(element_m, pitch_m, contact_rad)) * speed_rev_s


def element_rate(element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    """Say how often an element turns about itself: D/(2·d)·(1 − r²)·speed; a mark on it strikes twice a turn.

    Args:
        element_m: diameter of an element [m].
        pitch_m: diameter of the circle through the elements' centres [m].
        contact_rad: contact angle [rad].
        speed_rev_s: speed of one ring against the other [rev/s].

    Returns:
        turns of the element per second, seen from the cage [Hz].

    Source: cwru-bearings, qiu-2006
    """
    return pitch_m / (2 * element_m) * (1 - _roll(element_m, pitch_m, contact_rad) ** 2) * speed_rev_s


def cage_rate(element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    """Say how often the cage comes round when the outer ring stands still: ½·(1 − r)·speed.

    Args:
        element_m: diameter of an element [m].
        pitch_m: diameter of the circle through the elements' centres [m].
        contact_rad: contact angle [rad].
        speed_rev_s: speed of the inner ring [rev/s].

    Returns:
        turns of the cage per second [Hz].

    Source: cwru-bearings, qiu-2006
    """
    return (1 - _roll(element_m, pitch_m, contact_rad)) / 2 * speed_rev_s


def cage_rate_outer_turning(element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    """Say how often the cage comes round when the inner ring stands still, as in an idler: ½·(1 + r)·speed.

    Args:
        element_m: diameter of an element [m].
        pitch_m: diameter of the circle through the elements' centres [m].
        contact_rad: contact angle [rad].
        speed_rev_s: speed of the outer ring [rev/s].

    Returns:
        turns of the cage per second [Hz].

    Source: from-memory
    """
    return (1 + _roll(element_m, pitch_m, contact_rad)) / 2 * speed_rev_s


def _roll(element_m: float, pitch_m: float, contact_rad: float) -> float:
    roll = element_m / pitch_m * math.cos(contact_rad)
    if roll >= 1:
        raise ValueError("An element cannot be as large as the circle that the elements run on.")
    return roll
