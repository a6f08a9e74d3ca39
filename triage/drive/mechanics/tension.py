"""Belt tension from the note of a plucked span, and back.

The span is taken as a string. A belt also resists bending, so a short span sounds higher than a string would and the
tension reads high; the longest free span gives the best figure.
"""

import math


def span_tension(note_hz: float, mass_kg_m: float, span_m: float) -> float:
    """Turn the note of a standing span into its tension: T = 4·m·L²·f².

    Args:
        note_hz: lowest note of the plucked span [Hz].
        mass_kg_m: mass of the belt per length [kg/m].
        span_m: free length between the two touching points [m].

    Returns:
        span tension [N].

    Source: common-practice
    """
    return 4 * mass_kg_m * (span_m * note_hz) ** 2


def running_span_tension(note_hz: float, mass_kg_m: float, span_m: float, belt_m_s: float) -> float:
    """Turn the note of a running span into its tension: c = f·L + √(f²·L² + v²), T = m·c².

    Args:
        note_hz: lowest note of the span [Hz].
        mass_kg_m: mass of the belt per length [kg/m].
        span_m: free length between the two touching points [m].
        belt_m_s: speed of the belt [m/s].

    Returns:
        span tension [N].

    Source: from-memory
    """
    wave_m_s = note_hz * span_m + math.hypot(note_hz * span_m, belt_m_s)
    return mass_kg_m * wave_m_s**2


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


def tension_per_rib(tension_n: float, ribs: float) -> float:
    """Share a span's tension among the belt's ribs: T/n.

    Args:
        tension_n: span tension [N].
        ribs: number of ribs [1].

    Returns:
        tension of one rib [N].

    Source: common-practice
    """
    return tension_n / ribs


def rib_tension_from_note(note_hz: float, span_m: float, mass_kg_m: float, ribs: float) -> float:
    """Turn the note of a standing span into the tension of one rib: T = 4·m·L²·f²/z.

    Args:
        note_hz: lowest note of the plucked span [Hz].
        span_m: free length between the two touching points [m].
        mass_kg_m: mass of the belt per length [kg/m].
        ribs: number of ribs [1].

    Returns:
        tension of one rib [N].

    Source: common-practice
    """
    return tension_per_rib(span_tension(note_hz, mass_kg_m, span_m), ribs)
