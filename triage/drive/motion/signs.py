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
        found.append(_arm(figures.arm_swing_mm))
    if kind != "switch-off" and figures.rotor_ahead_rpm is not None:
        lags = figures.rotor_ahead_rpm < -LAG_SHARE * ring_rpm
        found.append("rotor lags behind its ring" if lags else "")
    found.append(_slip(kind, figures.slip_mm))
    if figures.coast_s is not None:
        found.append("rotor coasts" if figures.coast_s >= COASTS_S else "rotor stops with the belt")
    return tuple(word for word in found if word)


def _arm(swing_mm: float) -> str:
    if swing_mm < ARM_STEADY_MM:
        return "arm steady"
    return "arm lively" if swing_mm < ARM_LIVELY_MM else "arm flutters"


def _slip(kind: EventKind, slip_mm: float) -> str:
    when = {"slow-down": " while the engine slows", "load-step": " at the load step"}.get(kind, "")
    return f"belt slips{when}" if slip_mm >= SLIP_MM else ""
