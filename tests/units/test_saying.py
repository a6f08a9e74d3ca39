"""Quantities back into words."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from triage.errors import QuantityRefused
from triage.units import KINDS, parse_quantity, say_back, say_quantity
from triage.units.bounds import BOUNDS
from triage.units.conversion import from_si, to_si
from triage.units.naming import unit_named

UNITS = [(kind.id, unit.label) for kind in KINDS.values() for unit in kind.units]


@pytest.mark.parametrize(
    ("text", "kind", "said"),
    [
        ("9 in-lb", "torque", "9 lbf·in (1.02 N·m)"),
        ("9", "torque", "9 N·m (no unit typed: N·m taken)"),
        ("1,3 Nm", "torque", "1.3 N·m"),
        ("9-13 in-lb", "torque", "11 ± 2 lbf·in (1.24 ± 0.23 N·m)"),
        ("68 F", "temperature", "68 °F (20 °C)"),
        ("68 ± 9 °F", "temperature", "68 ± 9 °F (20 ± 5 °C)"),
        ("1.5°", "angle", "1.5°"),
        ("95k miles", "distance", "95000 mi (152888 km)"),
        ("−5 V", "voltage", "−5 V"),
        ("0.3 VAC", "voltage", "0.3 V AC"),
        ("12.653 V", "voltage", "12.653 V"),
        ("2.2k rpm", "speed", "2200 r/min"),
        ("0 s", "time", "0 s"),
        ("0.35", "number", "0.35"),
    ],
)
def test_a_typed_quantity_is_said_back_as_it_was_understood(text: str, kind: str, said: str) -> None:
    assert say_back(parse_quantity(text, kind)) == said


@pytest.mark.parametrize(
    ("value", "kind", "unit", "digits", "said"),
    [
        (1.0168634612485503, "torque", "lbf·in", 3, "9 lbf·in"),
        (1.0168634612485503, "torque", "in-lb", 3, "9 lbf·in"),
        (1.0168634612485503, "torque", "", 3, "1.02 N·m"),
        (1.0168634612485503, "torque", "", 5, "1.0169 N·m"),
        (25.0, "speed", "", 3, "1500 r/min"),
        (25.0, "speed", "rev/s", 3, "25 rev/s"),
        (9.996, "time", "", 3, "10 s"),
        (152_345_678.0, "distance", "", 3, "152346 km"),
        (0.000293, "inertia", "", 3, "0.000293 kg·m²"),
        (2.93e-9, "inertia", "", 3, "2.93e-09 kg·m²"),
        (-0.0556, "position", "", 3, "−55.6 mm"),
        (0.00349, "angle", "", 3, "0.2°"),
    ],
)
def test_a_value_is_said_in_the_unit_that_is_liked(value: float, kind: str, unit: str, digits: int, said: str) -> None:
    assert say_quantity(value, kind, unit, digits=digits) == said


def test_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(QuantityRefused, match="not of a torque"):
        say_quantity(1.0, "torque", "V")


def figures(least: float, most: float, digits: int) -> st.SearchStrategy[Decimal]:
    """Numbers of so many figures between two sizes, as likely small as large."""
    powers = st.integers(math.floor(math.log10(least)), math.floor(math.log10(most)))
    mantissas = st.integers(10 ** (digits - 1), 10**digits - 1)
    return st.builds(lambda mantissa, power: Decimal(mantissa).scaleb(power - digits + 1), mantissas, powers)


def written(figure: Decimal) -> str:
    """Write a number out; noughts at its end keep a dot from being one of thousands."""
    text = f"{figure:f}"
    return f"{text}0000" if "." in text else text


@st.composite
def typed(draw: st.DrawFn) -> tuple[str, str]:
    """A reading of any kind in any of its units, up to the bounds, with as many figures as are said back."""
    name, label = draw(st.sampled_from(UNITS))
    kind = KINDS[name]
    unit = unit_named(label, kind) if label else kind.units[0]
    scale = abs(float(from_si(Fraction(1), unit, kind) - from_si(Fraction(0), unit, kind)))
    least, most = (scale * bound.si for bound in BOUNDS[name])
    value = draw(figures(least, most, 6)) * draw(st.sampled_from([1, -1] if kind.signed else [1]))
    text = written(value)
    if draw(st.booleans()):
        text += f" ± {written(draw(figures(float(abs(value)) / 1e4, float(abs(value)), 3)))}"
    return f"{text} {label}".strip(), name


@settings(max_examples=300)
@example(reading=("672.1230 r/min", "speed"))
@given(reading=typed())
def test_what_is_said_back_is_understood_as_the_same_value_when_it_is_typed_again(reading: tuple[str, str]) -> None:
    text, kind = reading
    try:
        understood = parse_quantity(text, kind)
    except QuantityRefused:  # beyond a bound, or below absolute zero
        assume(False)
    said, _, beside = say_back(understood).removesuffix(")").partition(" (")
    again = parse_quantity(said, kind)
    assert again.value == pytest.approx(understood.value, rel=1e-12)
    assert again.spread == pytest.approx(understood.spread, rel=1e-6)
    if beside and not beside.startswith("no unit typed"):
        assert parse_quantity(beside, kind).value == pytest.approx(understood.value, rel=6e-3)


@settings(max_examples=300)
@given(reading=typed(), digits=st.integers(2, 12), data=st.data())
def test_what_is_said_in_any_unit_is_understood_as_the_same_value(
    reading: tuple[str, str], digits: int, data: st.DataObject
) -> None:
    text, kind = reading
    try:
        value = parse_quantity(text, kind).value
    except QuantityRefused:
        assume(False)
    unit = data.draw(st.sampled_from(KINDS[kind].units))
    said = say_quantity(value, kind, unit.label, digits=digits)
    size = abs(from_si(Fraction(value), unit, KINDS[kind]))
    rounding = to_si(size * Fraction(6, 10**digits), unit, KINDS[kind]) - to_si(Fraction(0), unit, KINDS[kind])
    assert parse_quantity(said, kind).value == pytest.approx(value, rel=1e-12, abs=float(rounding))


@pytest.mark.parametrize(
    ("value", "kind", "said"),
    [
        (672.123 / 60, "speed", "672.1230 r/min"),
        (1234.5 / 60, "speed", "1234.5 r/min"),
        (0.123 / 60, "speed", "0.123 r/min"),
        (672.12 / 60, "speed", "672.12 r/min"),
        (123_456.0, "distance", "123.4560 km"),
        (672.123, "torque", "672.123 N·m"),
    ],
)
def test_three_figures_behind_the_dot_get_a_nought_where_they_could_be_thousands(
    value: float, kind: str, said: str
) -> None:
    assert say_quantity(value, kind, digits=6) == said
    assert parse_quantity(said, kind).value == pytest.approx(value, rel=1e-12)
