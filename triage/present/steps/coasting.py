"""How long the alternator's rotor runs on, how hard its clutch drags, and what it weighs: readings of one law compared.

Only what cannot be is said: everything unsure is taken the way in which the readings would agree best. What runs on
after the belt has stopped runs on for longer since the engine was switched off.
"""

import math

from triage.drive.mechanics.coasting import ROTOR_WINDAGE_NMS2, coast_drag, coast_time
from triage.drive.mechanics.overrun import ROTOR_DRAG_NM
from triage.record.layouts import DriveKnown
from triage.session.state import State
from triage.units import say_quantity

COASTING = ("shutdown-listen", "coast-down", "overrun-torque")
"""Checks that read the one law."""
OFF_RPM = 2000.0, 2500.0
"""Engine speeds at which it is switched off in these checks."""
_ROTOR_KG_M2 = 0.002, 0.005
"""Inertias of rotors where the layout gives none; from memory."""
_RATIOS = 2.0, 3.5
"""Turns of a rotor for one of the crank where the layout gives none; from memory."""
_BELT_STOPS_S = 3.0
"""The longest that engine and belt take to stand after they are switched off; from memory."""
_SEEN_S = 2.0
"""A rotor that runs on so long after the belt is seen to run on; a judgement of ours."""
_COVERAGE = 2.0
_LEAST = 1e-6


def coast_lines(state: State) -> tuple[str, ...]:
    """What this vehicle's rotor would do by its law, as far as the layout says; nothing without its inertia."""
    known = state.layout.known if state.layout else None
    if known is None or known.rotor_kg_m2 is None:
        return ()
    low, high = (
        _coast(known, rpm, drag_nm) for rpm, drag_nm in ((OFF_RPM[0], ROTOR_DRAG_NM + 1.0), (OFF_RPM[1], ROTOR_DRAG_NM))
    )
    inertia = say_quantity(known.rotor_kg_m2, "inertia")
    by_bearings = f"A free rotor of {inertia} stands {high:.0f} s after the switch-off by its bearings alone"
    by_clutch = f"{low:.1f} s after it where its clutch drags by 1 N·m more"
    return (f"{by_bearings}, {by_clutch} (drag and air from memory); the belt takes 1 to 3 s of it",)


def coast_contradictions(state: State) -> tuple[str, ...]:
    """Readings of coast, drag and inertia that cannot all be right, a sentence each."""
    known = state.layout.known if state.layout else None
    noise_s = _reading(state, "shutdown-listen", -1)
    coast = state.findings.get("coast-down")
    stands = coast is not None and "stops-at-once" in coast.outcomes
    found = [
        _noise_against_drag(known, noise_s, _reading(state, "overrun-torque", -1)),
        _standing_against_drag(known, _reading(state, "overrun-torque", 1)) if stands else "",
        _noise_against_standing(noise_s) if stands else "",
    ]
    return tuple(line for line in found if line)


def _noise_against_drag(known: DriveKnown | None, noise_s: float | None, drag_nm: float | None) -> str:
    if noise_s is None or drag_nm is None:
        return ""
    inertia, ratio = _rotor(known, 1)
    speed_rad_s = 2 * math.pi * OFF_RPM[1] / 60 * ratio
    if coast_time(inertia, speed_rad_s, drag_nm, 0.0) >= noise_s:
        return ""
    needed = say_quantity(coast_drag(inertia, speed_rad_s, noise_s, 0.0), "torque", digits=2)
    return (
        f"They contradict each other: noise for {noise_s:.1f} s after the belt has stopped needs a drag under {needed}"
        f"{_by(known, inertia)}, and {say_quantity(drag_nm, 'torque')} was measured. Measure one of them again."
    )


def _standing_against_drag(known: DriveKnown | None, drag_nm: float | None) -> str:
    if drag_nm is None:
        return ""
    inertia, ratio = _rotor(known, 0)
    speed_rad_s = 2 * math.pi * OFF_RPM[0] / 60 * ratio
    left_s = coast_time(inertia, speed_rad_s, drag_nm + ROTOR_DRAG_NM, ROTOR_WINDAGE_NMS2) - _BELT_STOPS_S
    if left_s < _SEEN_S:
        return ""
    return (
        "They contradict each other: the rotor was seen to stop with the belt, and a drag of "
        f"{say_quantity(drag_nm, 'torque')} would let it run on for {left_s:.0f} s or more{_by(known, inertia)}. "
        "Look or measure again."
    )


def _noise_against_standing(noise_s: float | None) -> str:
    if noise_s is None or noise_s < _SEEN_S:
        return ""
    return (
        "They contradict each other: the rotor was seen to stop with the belt, yet noise was timed for "
        f"{noise_s:.1f} s after it. A rotor that stands makes none: look again, or something else is heard."
    )


def _coast(known: DriveKnown, rpm: float, drag_nm: float) -> float:
    inertia, ratio = _rotor(known, 0)
    return coast_time(inertia, 2 * math.pi * rpm / 60 * ratio, drag_nm, ROTOR_WINDAGE_NMS2)


def _rotor(known: DriveKnown | None, end: int) -> tuple[float, float]:
    """Inertia and turns for one of the crank: the layout's, else the least (0) or the most (1) from memory."""
    inertia = known.rotor_kg_m2 if known and known.rotor_kg_m2 is not None else _ROTOR_KG_M2[end]
    return inertia, known.repeats.get("alternator", _RATIOS[end]) if known else _RATIOS[end]


def _by(known: DriveKnown | None, inertia: float) -> str:
    source = "the layout's" if known and known.rotor_kg_m2 is not None else "from memory, the layout gives none"
    return f" with a rotor of {say_quantity(inertia, 'inertia')} ({source})"


def _reading(state: State, check: str, towards: int) -> float | None:
    """What was measured, moved by its uncertainty towards more (1) or less (−1); none where nothing was."""
    finding = state.findings.get(check)
    if finding is None or finding.verdict is None:
        return None
    return max(finding.verdict.value + towards * _COVERAGE * finding.verdict.uncertainty, _LEAST)
