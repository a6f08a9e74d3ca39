"""The note of a belt's span, from its tension.

The span is taken as a string. A belt also resists bending, so a short span sounds higher than a string would; the
longest free span gives the best figure.
"""

import math


def span_note(tension_n: float, mass_kg_m: float, span_m: float, belt_m_s: float) -> float:
    """Say at which note a span sounds, standing or running: f = (c² − v²)/(2·L·c), c = √(T/m).

    Args:
        tension_n: span tension [N].
        mass_kg_m: mass of the belt per length [kg/m].
        span_m: free length between the two touching points [m].
        belt_m_s: speed of the belt, zero when it stands [m/s].

    Returns:
        lowest note [Hz].

    Raises:
        ValueError: the belt runs as fast as a wave on it, so the span has no note.

    Source: from-memory
    """
    wave_m_s = math.sqrt(tension_n / mass_kg_m)
    if belt_m_s >= wave_m_s:
        raise ValueError("At this speed the tension no longer holds the span straight, so it has no note.")
    return (wave_m_s**2 - belt_m_s**2) / (2 * span_m * wave_m_s)
