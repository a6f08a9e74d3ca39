"""What the checks of a session would read off a simulated drive: arm, slip, lag and coasting, in their own words.

Limits are those of the checks in trees/checks, from memory there and here.
"""

from triage.drive.motion.events import EventKind
from triage.drive.motion.figures import Figures

ARM_STEADY_MM, ARM_LIVELY_MM = 3.0, 6.0
"""Below the first the arm is steady, below the second lively, above it flutters: check arm-motion."""
SLIP_MM = 1.0
"""Less slip than this in a whole run nobody hears; from memory."""
LAG_SHARE = 0.05
"""A rotor that stays this much behind its ring slips inside: check clutch-slip."""
COASTS_S = 0.3
"""A rotor that outlives the belt by less stops at once to the eye; from memory."""
STEADY_EVENTS = "idle", "sweep"


def signs(kind: EventKind, figures: Figures, ring_rpm: float) -> tuple[str, ...]:
    """Say what the checks would find in a variant.

    Args:
        kind: what happened.
        figures: of the variant.
        ring_rpm: mean speed of the alternator's ring in the run [SI].

    Returns:
        a few words each.

    Source: from-memory
    """
    found = []
    if kind in STEADY_EVENTS and figures.arm_swing_mm is not None:
        found.append(arm_words(figures.arm_swing_mm))
    if kind != "switch-off":
        found.append(lag_words(lag(figures, ring_rpm)))
    when = {"slow-down": " while the engine slows", "load-step": " at the load step"}.get(kind, "")
    found += [slip_words(figures.slip_mm, when), coast_words(figures)]
    return tuple(word for word in found if word)


def lag(figures: Figures, ring_rpm: float) -> float | None:
    """Say by which share a rotor stays behind its ring at the least.

    Args:
        figures: of a run.
        ring_rpm: mean speed of the ring in it [rpm].

    Returns:
        the share, none without a rotor [1].

    Source: from-memory
    """
    return None if figures.rotor_ahead_rpm is None else max(0.0, -figures.rotor_ahead_rpm / ring_rpm)


def arm_words(swing_mm: float) -> str:
    """Say what is seen of the arm.

    Args:
        swing_mm: of the tensioner pulley's centre, end to end [mm].

    Returns:
        a word or two.

    Source: from-memory
    """
    if swing_mm < ARM_STEADY_MM:
        return "arm steady"
    return "arm lively" if swing_mm < ARM_LIVELY_MM else "arm flutters"


def lag_words(share: float | None) -> str:
    """Say what two speeds tell of the rotor.

    Args:
        share: by which it stays behind its ring [1].

    Returns:
        a few words, "" where it keeps up.

    Source: from-memory
    """
    return "rotor lags behind its ring" if share is not None and share > LAG_SHARE else ""


def slip_words(slip_mm: float, when: str = " while the engine slows") -> str:
    """Say what is heard of the belt.

    Args:
        slip_mm: over all pulleys [mm].
        when: it was.

    Returns:
        a few words, "" where it grips.

    Source: from-memory
    """
    return f"belt slips{when}" if slip_mm >= SLIP_MM else ""


def coast_words(figures: Figures) -> str:
    """What is seen of the rotor after the belt has stopped; "" where that is unknown.

    One that only rocks on its spring, with nothing that lets it run ahead, does not coast.
    """
    if figures.coast_s is None:
        return ""
    coasts = figures.coast_s >= COASTS_S and bool(figures.overrun_s)
    return "rotor coasts" if coasts else "rotor stops with the belt"
