"""Quantities back into words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from triage.errors import QuantityRefused
from triage.units import KINDS, parse_quantity, say_back, say_quantity

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


@given(figure=st.floats(1e-3, 1e6), choice=st.sampled_from(UNITS))
def test_what_is_said_is_read_back_as_the_same_value(figure: float, choice: tuple[str, str]) -> None:
    kind, unit = choice
    value = parse_quantity(f"{figure:.9f}", kind).value
    said = say_quantity(value, kind, unit, digits=12)
    assert parse_quantity(said, kind).value == pytest.approx(value, rel=1e-10, abs=1e-15)
