"""The table of kinds and units, and the factors that the unit library gives for it."""

import math
from fractions import Fraction

import pint
import pytest

from triage.units import KINDS, Kind, Unit, parse_quantity
from triage.units.conversion import to_si
from triage.units.naming import find_unit, normal_form, unit_named

UNITS = [(kind, unit) for kind in KINDS.values() for unit in kind.units]
NAMED = [pytest.param(kind, unit, id=f"{kind.id} {unit.label}") for kind, unit in UNITS]

FLOATS: pint.UnitRegistry[float] = pint.UnitRegistry()

# Exact by definition. Source: NIST SP 811 (2008), App. B; standard gravity, pound, inch, from memory.
INCH, POUND, GRAVITY = 0.0254, 0.45359237, 9.80665
LBF = POUND * GRAVITY

# SI value of one of each unit, written down independently of the unit library: (factor, offset).
IN_SI: dict[str, dict[str, float | tuple[float, float]]] = {
    "torque": {
        "N·m": 1,
        "N·cm": 1e-2,
        "N·mm": 1e-3,
        "mN·m": 1e-3,
        "daN·m": 10,
        "kN·m": 1e3,
        "lbf·in": LBF * INCH,
        "lbf·ft": LBF * 12 * INCH,
        "ozf·in": LBF / 16 * INCH,
        "kgf·m": GRAVITY,
        "kgf·cm": GRAVITY / 100,
    },
    "speed": {"r/min": 1 / 60, "rev/s": 1, "Hz": 1, "rad/s": 1 / math.tau},
    "time": {"s": 1, "ms": 1e-3, "min": 60, "h": 3600},
    "length": {
        "mm": 1e-3,
        "cm": 1e-2,
        "m": 1,
        "µm": 1e-6,
        "in": INCH,
        "ft": 12 * INCH,
        "thou": INCH / 1000,
        "km": 1e3,
        "mi": 5280 * 12 * INCH,
    },
    "distance": {"km": 1e3, "mi": 1609.344, "m": 1},
    "voltage": {"V": 1, "V DC": 1, "V AC": 1, "mV": 1e-3, "mV DC": 1e-3, "mV AC": 1e-3, "kV": 1e3},
    "temperature": {"°C": (1, 273.15), "°F": (5 / 9, 459.67 * 5 / 9), "K": 1},
    "angle": {"°": math.pi / 180, "′": math.pi / 10800, "rad": 1, "mrad": 1e-3, "turn": math.tau},
    "frequency": {"Hz": 1, "kHz": 1e3, "r/min": 1 / 60},
    "force": {"N": 1, "kN": 1e3, "daN": 10, "lbf": LBF, "kgf": GRAVITY, "ozf": LBF / 16},
    "current": {"A": 1, "mA": 1e-3},
    "mass-per-length": {"kg/m": 1, "g/m": 1e-3},
    "inertia": {"kg·m²": 1, "kg·cm²": 1e-4, "kg·mm²": 1e-6, "g·cm²": 1e-7},
    "torsional-stiffness": {"N·m/rad": 1, "N·m/°": 180 / math.pi, "lbf·in/°": LBF * INCH * 180 / math.pi},
    "rotational-damping": {"N·m·s": 1},
    "windage": {"N·m·s²": 1},
    "number": {"": 1, "%": 0.01},
}
IN_SI["position"] = IN_SI["length"]


@pytest.mark.parametrize(("kind", "unit"), NAMED)
def test_every_factor_is_the_one_written_down_from_definitions(kind: Kind, unit: Unit) -> None:
    expected = IN_SI[kind.id][unit.label]
    factor, offset = expected if isinstance(expected, tuple) else (expected, 0)
    for figure in (1, 250):
        assert to_si(Fraction(figure), unit, kind) == pytest.approx(figure * factor + offset, rel=1e-13)


@pytest.mark.parametrize(("kind", "unit"), NAMED)
def test_every_factor_is_the_one_of_a_registry_computing_in_floats(kind: Kind, unit: Unit) -> None:
    expected = FLOATS.Quantity(250.0, unit.expression).to(kind.expression).magnitude
    assert to_si(Fraction(250), unit, kind) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "printed", "digits"),
    [
        # NIST SP 811 (2008), App. B.8, seen; the last printed figure may be rounded.
        ("1 lbf·in", "torque", 0.1129848, 7),
        ("1 lbf·ft", "torque", 1.355818, 6),
        ("1 lbf", "force", 4.448222, 6),
        ("1 in", "length", 0.0254, 4),
        # 1 r/min is 0.104 719 8 rad/s there; here speeds are turns a second.
        ("1 r/min", "speed", 0.1047198 / math.tau, 8),
    ],
)
def test_factors_agree_with_nist_sp_811(text: str, kind: str, printed: float, digits: int) -> None:
    assert parse_quantity(text, kind).value == pytest.approx(printed, abs=10.0**-digits)


def test_twelve_pound_inches_are_exactly_one_pound_foot() -> None:
    assert parse_quantity("12 lbf·in", "torque").value == parse_quantity("1 lbf·ft", "torque").value


def test_sixty_turns_a_minute_are_one_a_second_for_speed_and_frequency() -> None:
    assert parse_quantity("60 r/min", "speed").value == 1.0
    assert parse_quantity("60 r/min", "frequency").value == 1.0


@pytest.mark.parametrize(("kind", "unit"), NAMED)
def test_every_spelling_is_in_normal_form_and_means_its_unit_in_any_case(kind: Kind, unit: Unit) -> None:
    for name in unit.names:
        assert normal_form(name) == name
        for spelling in (name, name.upper(), name.capitalize()):
            if spelling.casefold() == name.casefold() and not _is_a_symbol_of_another(spelling, kind, unit):
                assert find_unit(spelling, kind) == (unit, 1)
    for symbol in unit.symbols:
        assert normal_form(symbol) == symbol
        assert find_unit(symbol, kind) == (unit, 1)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_no_spelling_means_two_units_of_a_kind(kind: Kind) -> None:
    names = [name for unit in kind.units for name in {name.casefold() for name in unit.names}]
    symbols = [symbol for unit in kind.units for symbol in unit.symbols]
    assert len(names) == len(set(names))
    assert len(symbols) == len(set(symbols))


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_the_usual_unit_and_the_si_unit_are_spelled_in_the_catalogue(kind: Kind) -> None:
    assert kind.usual == kind.units[0].label
    assert to_si(Fraction(1), unit_named(kind.si, kind), kind) == 1


def test_thousands_are_grouped_only_where_usual_values_are_that_large() -> None:
    assert [kind.id for kind in KINDS.values() if kind.grouped] == ["speed", "distance"]


def test_fractions_of_an_inch_are_exact() -> None:
    for sixteenths in range(1, 16):
        share = Fraction(sixteenths, 16)
        text = f"{share.numerator}/{share.denominator} in"
        assert parse_quantity(text, "length").value == float(share * Fraction(254, 10_000))


def _is_a_symbol_of_another(spelling: str, kind: Kind, unit: Unit) -> bool:
    return any(spelling in other.symbols for other in kind.units if other is not unit)
