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


def counted_rate(count: float, time_s: float) -> float:
    """Turn a count of chirps over a time into a rate: N/t.

    Args:
        count: how many were counted, the one at the start of the time not among them [1].
        time_s: time that they took [s].

    Returns:
        repeats per second [Hz].

    Source: common-practice
    """
    return count / time_s


def belt_slip(driver_rev_s: float, driven_rev_s: float, driver_pitch_m: float, driven_pitch_m: float) -> float:
    """Compare two speeds with what the pitch diameters promise: s = 1 − n₂·d₂/(n₁·d₁).

    Args:
        driver_rev_s: speed of the driving pulley [rev/s].
        driven_rev_s: speed of the driven pulley [rev/s].
        driver_pitch_m: pitch diameter of the driving pulley [m].
        driven_pitch_m: pitch diameter of the driven pulley [m].

    Returns:
        share of the belt's travel that is lost, negative when the driven pulley runs ahead [1].

    Source: khurmi
    """
    return 1 - driven_rev_s * driven_pitch_m / (driver_rev_s * driver_pitch_m)


def belt_slip_from_effective(
    driver_rev_s: float, driven_rev_s: float, driver_effective_m: float, driven_effective_m: float
) -> float:
    """Compare two speeds with what the effective diameters promise, taken out to the cord first.

    Args:
        driver_rev_s: speed of the driving pulley [rev/s].
        driven_rev_s: speed of the driven pulley [rev/s].
        driver_effective_m: effective diameter of the driving pulley, ribbed [m].
        driven_effective_m: effective diameter of the driven pulley, ribbed [m].

    Returns:
        share of the belt's travel that is lost, negative when the driven pulley runs ahead [1].

    Source: khurmi, iso-9981
    """
    return belt_slip(driver_rev_s, driven_rev_s, pitch_diameter(driver_effective_m), pitch_diameter(driven_effective_m))


def clutch_slip(ring_rev_s: float, rotor_rev_s: float) -> float:
    """Compare a pulley's outer ring with the rotor behind it: s = 1 − n_rotor/n_ring.

    A pulley that holds has none. A positive figure under load means that its clutch slips; a negative one while the
    engine slows means that the rotor overruns, which a clutch or decoupler pulley is made for.

    Args:
        ring_rev_s: speed of the outer ring [rev/s].
        rotor_rev_s: speed of the rotor [rev/s].

    Returns:
        share of the ring's speed that does not reach the rotor [1].

    Source: common-practice
    """
    return 1 - rotor_rev_s / ring_rev_s
