"""What is too small or too large to be at a vehicle or a bench."""

from fractions import Fraction

import pytest

from triage.errors import QuantityImplausible
from triage.units import KINDS, parse_quantity
from triage.units.bounds import BOUNDS


def test_every_kind_has_bounds() -> None:
    assert BOUNDS.keys() == KINDS.keys()
    assert all(0 < least.si < most.si for least, most in BOUNDS.values())


@pytest.mark.parametrize("kind", KINDS)
def test_bounds_are_said_as_they_are(kind: str) -> None:
    for bound in BOUNDS[kind]:
        assert parse_quantity(bound.said, kind).value == pytest.approx(bound.si, rel=1e-12)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_within_the_bounds_is_a_reading_and_what_is_beyond_is_refused_with_the_bound(kind: str) -> None:
    least, most = BOUNDS[kind]
    for bound, inwards in ((least, Fraction(11, 10)), (most, Fraction(9, 10))):
        parse_quantity(f"{float(Fraction(bound.si) * inwards):.6e} {KINDS[kind].si}", kind)
        with pytest.raises(QuantityImplausible, match=f" {bound.said}[.,]"):
            parse_quantity(f"{float(Fraction(bound.si) / inwards):.6e} {KINDS[kind].si}", kind)


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_a_reading_of_every_kind_but_absolute_zero(kind: str) -> None:
    unit = "°C" if kind == "temperature" else KINDS[kind].si
    assert parse_quantity(f"0 {unit}", kind).value == (273.15 if kind == "temperature" else 0.0)


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("999999999999 m", "length", "a length at a vehicle or a bench is at most 100 m."),
        ("-999999999999 m", "position", "a position at a vehicle or a bench is at most 100 m."),
        ("1e-57 N·m", "torque", "a torque at a vehicle or a bench is at least 0.001 mN·m, or nothing."),
        ("1e15 V", "voltage", "a voltage at a vehicle or a bench is at most 100 kV."),
        ("9" * 40 + " V", "voltage", "at most 100 kV."),
        ("5 ± 1e9 V", "voltage", "at most 100 kV."),
        ("0 to 1e9 V", "voltage", "at most 100 kV."),
        ("1 K", "temperature", "a temperature at a vehicle or a bench is at least −100 °C."),
        ("5000 °F", "temperature", "at most 2000 °C."),
        ("9000000 rpm", "speed", "a speed of rotation at a vehicle or a bench is at most 600000 r/min."),
        ("20000000 km", "distance", "a distance driven at a vehicle or a bench is at most 10000000 km."),
    ],
)
def test_the_sentence_names_the_bound(text: str, kind: str, sentence: str) -> None:
    with pytest.raises(QuantityImplausible) as refused:
        parse_quantity(text, kind)
    assert sentence in refused.value.message
    assert refused.value.hint
