"""An alternator's rotor: what it takes, how it runs on, and what its belt has to hold.

Source: iso-8854 for the usual efficiency; drag and air of a rotor from memory.
"""

import math

from triage.drive.bay.formula import Formula, FormulaPart
from triage.drive.mechanics.coasting import coast_drag
from triage.drive.mechanics.grip import friction_needed
from triage.drive.mechanics.speeds import meeting_speed

WINDAGE_AT_RAD_S = 2 * math.pi * 100
"""Speed at which the air's torque is given: 6000 r/min."""


def _torque(volts: float, amps: float, rotor_rev_s: float, efficiency: float) -> float:
    if efficiency > 1:
        raise ValueError("No alternator gives more than it takes: the efficiency is at most 1.")
    return volts * amps / (efficiency * 2 * math.pi * rotor_rev_s)


def _drag(inertia_kg_m2: float, rotor_rev_s: float, time_s: float, windage_nm: float) -> float:
    return coast_drag(inertia_kg_m2, 2 * math.pi * rotor_rev_s, time_s, windage_nm / WINDAGE_AT_RAD_S**2)


def _share(tight_n: float, slack_n: float, wrap_rad: float, friction: float, groove_rad: float) -> float:
    if not 0 < groove_rad <= math.pi:
        raise ValueError("A groove angle is more than 0° and at most 180°, which is flat.")
    return friction_needed(wrap_rad / math.sin(groove_rad / 2), tight_n, slack_n) / friction


ROTORS = (
    Formula(
        "alternator-torque",
        "Torque that an alternator takes, from volts, amps, speed and efficiency",
        (
            FormulaPart("voltage", "voltage", "U"),
            FormulaPart("current", "current", "I"),
            FormulaPart("rotor's speed", "speed", "n"),
            FormulaPart("efficiency", "number", "η", usual=0.67),
        ),
        "torque",
        _torque,
        "M = U·I / (η·2π·n)",
        "iso-8854",
        "67 % is the baseline for approvals; real ones lie between 50 and 75 % (from memory), lowest at high current.",
    ),
    Formula(
        "coast-drag",
        "Drag of a rotor, from how long it coasts and its inertia",
        (
            FormulaPart("rotor's inertia", "inertia", "J"),
            FormulaPart("rotor's speed at first", "speed", "n"),
            FormulaPart("time until it stands", "time", "t"),
            FormulaPart("torque of the air at 6000 r/min", "torque", "W", "not-negative", usual=0.2),
        ),
        "torque",
        _drag,
        "c = W / (6000 r/min)², t = J / √(M·c)·atan(2π·n·√(c / M)), M = solved from t",
        "from-memory",
        "Time it from where it turns freely: while the ring still runs, the clutch may push. Air from memory.",
    ),
    Formula(
        "grip-used",
        "Share of its grip that a wrap uses; at 100 % the belt slips",
        (
            FormulaPart("tension of the tight side", "force", "T₁"),
            FormulaPart("tension of the slack side", "force", "T₂"),
            FormulaPart("angle of wrap", "angle", "φ", "positive"),
            FormulaPart("friction", "number", "µ"),
            FormulaPart("whole groove angle, 180° on the back", "angle", "β", "positive", usual=math.radians(40)),
        ),
        "number",
        _share,
        "share = ln(T₁ / T₂)·sin(β / 2) / (µ·φ)",
        "khurmi",
        "Both tensions net of m·v². One friction for all speeds of sliding; a wet belt keeps 60 to 70 % of it.",
    ),
    Formula(
        "firing-speed",
        "Engine speed at which the firing meets a frequency",
        (FormulaPart("frequency", "frequency", "f"), FormulaPart("number of cylinders", "number", "z")),
        "speed",
        meeting_speed,
        "n = 2·f / z",
        "common-practice",
        "Four-stroke engines that fire evenly. Half, twice and other multiples of the firing shake too, less.",
    ),
)
