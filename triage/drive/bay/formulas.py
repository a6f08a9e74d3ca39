"""The bay's arithmetic as one list, for the command line and for checks that are worked out from several readings."""

import math
from collections.abc import Sequence
from operator import truediv

from triage.drive.bay.bearings import BEARINGS
from triage.drive.bay.formula import Formula, FormulaPart, result_of, uncertainty_of
from triage.drive.bay.rotors import ROTORS
from triage.drive.bay.wrenches import WRENCHES
from triage.drive.mechanics import speeds
from triage.drive.mechanics.span_note import span_note

_MASS = FormulaPart("belt mass per length", "mass-per-length", "m")
_SPAN = FormulaPart("free span", "length", "L")
_NOTE = FormulaPart("note of the span", "frequency", "f")
_TENSION = FormulaPart("span tension", "force", "T")
_RIBS = FormulaPart("number of ribs", "number", "z")
_CRANK = FormulaPart("crank speed", "speed", "n")
_CRANK_PULLEY = FormulaPart("crank pulley's pitch diameter", "length", "D")
_STRING = "The span counts as a string: short spans of stiff belts read high. Use the longest free span."

_DRIVER = FormulaPart("driving pulley's speed", "speed", "n₁")
_DRIVEN = FormulaPart("driven pulley's speed", "speed", "n₂", "not-negative")
_SLIP_LIMITS = "Both speeds at the same moment. A belt that grips creeps by a percent or so; diameters must be exact."


def _slip(driver_rev_s: float, driven_rev_s: float, driver_pitch_m: float, driven_pitch_m: float) -> float:
    return 1 - driven_rev_s * driven_pitch_m / (driver_rev_s * driver_pitch_m)


def _slip_from_effective(driver_rev_s: float, driven_rev_s: float, driver_m: float, driven_m: float) -> float:
    return _slip(driver_rev_s, driven_rev_s, speeds.pitch_diameter(driver_m), speeds.pitch_diameter(driven_m))


def _tension(note_hz: float, mass_kg_m: float, span_m: float) -> float:
    return 4 * mass_kg_m * (span_m * note_hz) ** 2


def _running_tension(note_hz: float, mass_kg_m: float, span_m: float, crank_rev_s: float, crank_m: float) -> float:
    wave_m_s = note_hz * span_m + math.hypot(note_hz * span_m, speeds.belt_speed(crank_rev_s, crank_m))
    return mass_kg_m * wave_m_s**2


def _standing_note(tension_n: float, mass_kg_m: float, span_m: float) -> float:
    return span_note(tension_n, mass_kg_m, span_m, 0.0)


def _running_note(tension_n: float, mass_kg_m: float, span_m: float, crank_rev_s: float, crank_m: float) -> float:
    return span_note(tension_n, mass_kg_m, span_m, speeds.belt_speed(crank_rev_s, crank_m))


_LIST = (
    *WRENCHES,
    Formula(
        "entry-angle",
        "Angle at which the belt runs in, from an offset over a span",
        (FormulaPart("offset", "position", "o", "any"), _SPAN),
        "angle",
        math.atan2,
        "angle = atan(o / L)",
        "sae-1999-01-1709",
        "The guideline of 0.33° is for grooved pulleys; belts sometimes chirp at or below it.",
    ),
    Formula(
        "tilt-angle",
        "Tilt of a pulley, from two gaps behind a straightedge at two heights",
        (
            FormulaPart("gap at the first height", "length", "a", "any"),
            FormulaPart("gap at the second height", "length", "b", "any"),
            FormulaPart("distance between the heights", "length", "h"),
        ),
        "angle",
        lambda first_m, second_m, apart_m: math.atan2(first_m - second_m, apart_m),
        "angle = atan((a − b) / h)",
        "common-practice",
        "Straightedge and pulley faces must be true; a bent rim shows as tilt that moves when the pulley is turned.",
    ),
    Formula(
        "pitch-diameter",
        "Pitch diameter of a ribbed pulley, from its effective diameter",
        (FormulaPart("effective diameter", "length", "d"),),
        "length",
        speeds.pitch_diameter,
        "pitch diameter = d + 2·2 mm",
        "iso-9981",
        "PK profile, nominal; the exact figure depends on the belt.",
    ),
    Formula(
        "pulley-speed",
        "Speed of a pulley that the belt turns without slip",
        (_CRANK, _CRANK_PULLEY, FormulaPart("other pulley's pitch diameter", "length", "d")),
        "speed",
        speeds.turning_rate,
        "speed = n·D / d",
        "shigley",
        "No slip and no creep.",
    ),
    Formula(
        "lap-rate",
        "How often one spot of the belt comes round",
        (_CRANK, _CRANK_PULLEY, FormulaPart("belt's pitch length", "length", "L")),
        "frequency",
        speeds.lap_rate,
        "laps = π·D·n / L",
        "common-practice",
        "No slip and no creep.",
    ),
    Formula(
        "firing-rate",
        "How often a four-stroke engine fires",
        (_CRANK, FormulaPart("number of cylinders", "number", "z")),
        "frequency",
        speeds.firing_rate,
        "firings = n·z / 2",
        "common-practice",
        "Four-stroke engines that fire evenly.",
    ),
    Formula(
        "counted-rate",
        "Repeats per second, from a count over a time",
        (FormulaPart("count", "number", "N"), FormulaPart("time", "time", "t")),
        "frequency",
        truediv,
        "rate = N / t",
        "common-practice",
        "Start the time on one chirp and count from the next. The engine's speed must hold meanwhile.",
    ),
    Formula(
        "belt-slip",
        "Belt slip, from two speeds and two pitch diameters",
        (
            _DRIVER,
            _DRIVEN,
            FormulaPart("driving pulley's pitch diameter", "length", "d₁"),
            FormulaPart("driven pulley's pitch diameter", "length", "d₂"),
        ),
        "number",
        _slip,
        "slip = 1 − n₂·d₂ / (n₁·d₁)",
        "khurmi",
        _SLIP_LIMITS,
    ),
    Formula(
        "belt-slip-effective",
        "Belt slip, from two speeds and the effective diameters of two ribbed pulleys",
        (
            _DRIVER,
            _DRIVEN,
            FormulaPart("driving pulley's effective diameter", "length", "d₁"),
            FormulaPart("driven pulley's effective diameter", "length", "d₂"),
        ),
        "number",
        _slip_from_effective,
        "slip = 1 − n₂·(d₂ + 2·2 mm) / (n₁·(d₁ + 2·2 mm))",
        "iso-9981",
        _SLIP_LIMITS,
    ),
    Formula(
        "clutch-slip",
        "Slip inside a pulley, from the speeds of its outer ring and of the rotor",
        (FormulaPart("ring's speed", "speed", "n₁"), FormulaPart("rotor's speed", "speed", "n₂", "not-negative")),
        "number",
        lambda ring_rev_s, rotor_rev_s: 1 - rotor_rev_s / ring_rev_s,
        "slip = 1 − n₂ / n₁",
        "common-practice",
        "Steady engine under electrical load. A negative figure is a rotor that overruns.",
    ),
    Formula(
        "span-tension",
        "Span tension, from the note of a standing span",
        (_NOTE, _MASS, _SPAN),
        "force",
        _tension,
        "T = 4·m·L²·f²",
        "common-practice",
        _STRING,
    ),
    Formula(
        "running-span-tension",
        "Span tension, from the note of a running span",
        (_NOTE, _MASS, _SPAN, _CRANK, _CRANK_PULLEY),
        "force",
        _running_tension,
        "v = π·D·n, c = f·L + √(f²·L² + v²), T = m·c²",
        "from-memory",
        _STRING,
    ),
    Formula(
        "span-note",
        "Note of a standing span, from its tension",
        (_TENSION, _MASS, _SPAN),
        "frequency",
        _standing_note,
        "f = √(T / m) / (2·L)",
        "common-practice",
        _STRING,
    ),
    Formula(
        "running-span-note",
        "Note of a running span, from its tension",
        (_TENSION, _MASS, _SPAN, _CRANK, _CRANK_PULLEY),
        "frequency",
        _running_note,
        "v = π·D·n, c = √(T / m), f = (c² − v²) / (2·L·c)",
        "from-memory",
        _STRING,
    ),
    Formula(
        "rib-tension",
        "Tension of one rib",
        (_TENSION, _RIBS),
        "force",
        truediv,
        "T per rib = T / z",
        "common-practice",
        "Typical is 65 to 130 N a rib (common practice). The maker's figure for this belt decides.",
    ),
    Formula(
        "rib-tension-from-note",
        "Tension of one rib, from the note of a standing span",
        (_NOTE, _SPAN, _MASS, _RIBS),
        "force",
        lambda note_hz, span_m, mass_kg_m, ribs: _tension(note_hz, mass_kg_m, span_m) / ribs,
        "T per rib = 4·m·L²·f² / z",
        "common-practice",
        "A belt resists bending: a short span reads high, and a slack belt may pass for tight. Longest free span only.",
    ),
    *BEARINGS,
    *ROTORS,
)

FORMULAS: dict[str, Formula] = {formula.id: formula for formula in _LIST}


def evaluate(formula_id: str, values: Sequence[float], uncertainties: Sequence[float]) -> tuple[float, float]:
    """Work a formula out, with what the uncertainty of its parts does to the result.

    Args:
        formula_id: a key of FORMULAS.
        values: one a part, in order, in the SI unit of its kind [SI].
        uncertainties: standard uncertainty of each, zero where it is exact [SI].

    Returns:
        result and its standard uncertainty, in the SI unit of the formula's kind [SI].

    Raises:
        QuantityRefused: a value that makes no sense here, or values without a result.

    Source: jcgm-100
    """
    formula = FORMULAS[formula_id]
    return result_of(formula, values), uncertainty_of(formula, values, uncertainties)
