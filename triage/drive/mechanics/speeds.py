"""How fast things turn in a drive, how often they come round, and how much of that is lost to slip.

Ratios go by pitch diameter, where the belt's cord runs. A technician measures something else, and on a small pulley
the difference is worth several percent.
"""

import math

EFFECTIVE_LINE_DIFFERENTIAL_M = 0.002
"""How far the cord of a PK belt runs outside a pulley's effective diameter, nominal; ISO 9981:2020, 5.4."""


def pitch_diameter(effective_m: float) -> float:
    """Turn the effective diameter of a ribbed pulley into the diameter that sets the speed: d + 2·b.

    Args:
        effective_m: effective diameter, as it stands in a pulley's designation [m].

    Returns:
        pitch diameter, with the nominal line differential of the PK profile [m].

    Source: iso-9981
    """
    return effective_m + 2 * EFFECTIVE_LINE_DIFFERENTIAL_M


def pitch_length(effective_m: float) -> float:
    """Turn the effective length printed on a belt into its length along the cord: L + 2π·b.

    Args:
        effective_m: effective length of a PK belt [m].

    Returns:
        pitch length, with the nominal line differential of the profile [m].

    Source: iso-9981, from-memory
    """
    return effective_m + 2 * math.pi * EFFECTIVE_LINE_DIFFERENTIAL_M


def turning_rate(crank_rev_s: float, crank_pitch_m: float, pulley_pitch_m: float) -> float:
    """Say how fast a pulley turns when the belt does not slip: n·D/d.

    Args:
        crank_rev_s: speed of the crankshaft [rev/s].
        crank_pitch_m: pitch diameter of the crank pulley [m].
        pulley_pitch_m: pitch diameter of the other pulley [m].

    Returns:
        speed of the other pulley [rev/s].

    Source: shigley
    """
    return crank_rev_s * crank_pitch_m / pulley_pitch_m


def belt_speed(crank_rev_s: float, crank_pitch_m: float) -> float:
    """Say how fast the belt runs: π·D·n.

    Args:
        crank_rev_s: speed of the crankshaft [rev/s].
        crank_pitch_m: pitch diameter of the crank pulley [m].

    Returns:
        belt speed [m/s].

    Source: shigley
    """
    return math.pi * crank_pitch_m * crank_rev_s


def lap_rate(crank_rev_s: float, crank_pitch_m: float, belt_m: float) -> float:
    """Say how often one spot of the belt comes round: π·D·n/L.

    Args:
        crank_rev_s: speed of the crankshaft [rev/s].
        crank_pitch_m: pitch diameter of the crank pulley [m].
        belt_m: pitch length of the belt [m].

    Returns:
        laps per second [Hz].

    Source: common-practice
    """
    return belt_speed(crank_rev_s, crank_pitch_m) / belt_m


def firing_rate(crank_rev_s: float, cylinders: float) -> float:
    """Say how often a four-stroke engine fires: n·z/2, evenly spaced.

    Args:
        crank_rev_s: speed of the crankshaft [rev/s].
        cylinders: number of cylinders [1].

    Returns:
        firings per second [Hz].

    Source: common-practice
    """
    return crank_rev_s * cylinders / 2


def meeting_speed(frequency_hz: float, cylinders: float) -> float:
    """Say at which speed of the crank a four-stroke engine fires at a given frequency: 2·f/z.

    Args:
        frequency_hz: such as a natural frequency of the drive [Hz].
        cylinders: number of cylinders [1].

    Returns:
        speed of the crank [rev/s].

    Source: common-practice
    """
    return 2 * frequency_hz / cylinders
