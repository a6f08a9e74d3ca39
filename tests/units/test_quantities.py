"""Typed readings: what is understood, what is refused, what is asked back."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from triage.errors import QuantityRefused, QuantityUnclear
from triage.units import KINDS, Quantity, parse_quantity

LBF_IN = 0.45359237 * 9.80665 * 0.0254
LBF_FT = 12 * LBF_IN

UNDERSTOOD = [
    # torque [N·m]
    ("9 in-lb", "torque", 9 * LBF_IN),
    ("13 in·lbf", "torque", 13 * LBF_IN),
    ("65 ft lbs", "torque", 65 * LBF_FT),
    ("10inlb", "torque", 10 * LBF_IN),
    ("9 in. lbs.", "torque", 9 * LBF_IN),
    ("9.5 in.-lb.", "torque", 9.5 * LBF_IN),
    ("9 inch pounds", "torque", 9 * LBF_IN),
    ("66 foot pounds", "torque", 66 * LBF_FT),
    ("66 ft-lb", "torque", 66 * LBF_FT),
    ("66 lb-ft", "torque", 66 * LBF_FT),
    ("66 lbf ft", "torque", 66 * LBF_FT),
    ("66 ftlb", "torque", 66 * LBF_FT),
    ("16 ozf in", "torque", LBF_IN),
    ("1,3 Nm", "torque", 1.3),
    ("0,125 Nm", "torque", 0.125),
    (".5 Nm", "torque", 0.5),
    ("1.500 Nm", "torque", 1.5),
    ("90N·m", "torque", 90.0),
    ("90 N-m", "torque", 90.0),
    ("90 N*m", "torque", 90.0),
    ("90 N×m", "torque", 90.0),
    ("90 N m", "torque", 90.0),
    ("90 NM", "torque", 90.0),
    ("90 newton metres", "torque", 90.0),
    ("130 N·cm", "torque", 1.3),
    ("9 kgf m", "torque", 88.25985),
    ("9 kgf·cm", "torque", 0.8825985),
    ("5 mNm", "torque", 0.005),
    ("0 Nm", "torque", 0.0),
    ("-0 Nm", "torque", 0.0),
    ("1 500 Nm", "torque", 1500.0),
    ("1.500,5 Nm", "torque", 1500.5),
    ("1,500.5 Nm", "torque", 1500.5),
    ("1'500 Nm", "torque", 1500.0),
    ("1,234,567 N", "force", 1234567.0),
    # speed [rev/s]
    ("60 rpm", "speed", 1.0),
    ("60 RPM", "speed", 1.0),
    ("60 r.p.m.", "speed", 1.0),
    ("60 r/min", "speed", 1.0),
    ("60 rev/min", "speed", 1.0),
    ("60 revs per minute", "speed", 1.0),
    ("60 1/min", "speed", 1.0),
    ("60min-1", "speed", 1.0),
    ("60min⁻¹", "speed", 1.0),
    ("60min^-1", "speed", 1.0),
    ("5s-1", "speed", 5.0),
    ("60 min-1", "speed", 1.0),
    ("60 min⁻¹", "speed", 1.0),
    ("1 rev/s", "speed", 1.0),
    ("1 Hz", "speed", 1.0),
    ("6.283185307179586 rad/s", "speed", 1.0),
    ("2.2k rpm", "speed", 2200 / 60),
    ("2,2k rpm", "speed", 2200 / 60),
    ("2.250 k rpm", "speed", 2250 / 60),
    ("2.2K RPM", "speed", 2200 / 60),
    ("2.2krpm", "speed", 2200 / 60),
    ("1,500 rpm", "speed", 25.0),
    ("1'500 rpm", "speed", 25.0),
    ("1 500 rpm", "speed", 25.0),
    ("1\u202f500\u00a0rpm", "speed", 25.0),
    ("16.667 rev/s", "speed", 16.667),
    # time [s]
    ("about 7 s", "time", 7.0),
    ("approx. 7 s", "time", 7.0),
    ("~7s", "time", 7.0),
    ("≈ 7 s", "time", 7.0),
    ("ca. 7 sec", "time", 7.0),
    ("20 msec", "time", 0.02),
    ("1.5 min", "time", 90.0),
    # length [m]
    ("1/16 in", "length", 0.0015875),
    ('3/16"', "length", 0.0047625),
    ("3/16″", "length", 0.0047625),
    ("2 1/2 in", "length", 0.0635),
    ("2-1/2 in", "length", 0.0635),
    ('2½"', "length", 0.0635),
    ("⅜ in", "length", 0.009525),
    ("40 thou", "length", 0.001016),
    ("1 ft", "length", 0.3048),
    ("150 µm", "length", 0.00015),
    ("150 μm", "length", 0.00015),
    ("3 MM", "length", 0.003),
    ("-55.6 mm", "position", -0.0556),
    # distance [m]
    ("95k miles", "distance", 95000 * 1609.344),
    ("95 thousand miles", "distance", 95000 * 1609.344),
    ("152 000 km", "distance", 152e6),
    ("152,000 km", "distance", 152e6),
    ("152'000 km", "distance", 152e6),
    ("152k km", "distance", 152e6),
    # voltage [V]
    ("450 mV", "voltage", 0.45),
    ("12,6 V", "voltage", 12.6),
    ("12.6V DC", "voltage", 12.6),
    ("0.3 VAC", "voltage", 0.3),
    ("−5 V", "voltage", -5.0),
    ("–5 V", "voltage", -5.0),
    ("- 5 V", "voltage", -5.0),
    ("+5 V", "voltage", 5.0),
    ("1e-3 V", "voltage", 0.001),
    ("1,5e3 mm", "length", 1.5),
    ("1.500e3 rpm", "speed", 25.0),
    ("0,500e3 mm", "length", 0.5),
    ("5-V", "voltage", 5.0),
    ("3/16-in", "length", 0.0047625),
    # temperature [K]
    ("68 F", "temperature", 293.15),
    ("68°F", "temperature", 293.15),
    ("68 ℉", "temperature", 293.15),
    ("25 C", "temperature", 298.15),
    ("25 degC", "temperature", 298.15),
    ("25 deg C", "temperature", 298.15),
    ("25 ° C", "temperature", 298.15),
    ("25 degrees Celsius", "temperature", 298.15),
    ("-40 F", "temperature", 233.15),
    ("300 K", "temperature", 300.0),
    # angle [rad]
    ("1.5°", "angle", math.radians(1.5)),
    ("1.5 degrees", "angle", math.radians(1.5)),
    ("-30 deg", "angle", math.radians(-30)),
    ("30'", "angle", math.radians(0.5)),
    ("1/4 turn", "angle", math.pi / 2),
    # frequency [Hz]
    ("33.3 Hz", "frequency", 33.3),
    ("60 rpm", "frequency", 1.0),
    ("1.2 kHz", "frequency", 1200.0),
    # force [N]
    ("5 lb", "force", 5 * 0.45359237 * 9.80665),
    ("170 kN", "force", 170000.0),
    ("5 kg", "force", 49.03325),
    # what layout files hold
    ("0.1029 kg/m", "mass-per-length", 0.1029),
    ("0.07248 kg·m²", "inertia", 0.07248),
    ("2.93e-4 kg m2", "inertia", 2.93e-4),
    ("2.93 kg*cm^2", "inertia", 2.93e-4),
    ("116.4 N·m/rad", "torsional-stiffness", 116.4),
    ("1 Nm/deg", "torsional-stiffness", 180 / math.pi),
    ("0.35", "number", 0.35),
    ("35 %", "number", 0.35),
]


@pytest.mark.parametrize(("text", "kind", "value"), UNDERSTOOD)
def test_what_technicians_type_is_understood(text: str, kind: str, value: float) -> None:
    quantity = parse_quantity(text, kind)
    assert quantity.value == pytest.approx(value, rel=1e-12)
    assert quantity.spread == 0
    assert not quantity.assumed


@pytest.mark.parametrize(
    ("kind", "value", "unit"),
    [
        ("torque", 9.0, "N·m"),
        ("speed", 0.15, "r/min"),
        ("time", 9.0, "s"),
        ("length", 0.009, "mm"),
        ("distance", 9000.0, "km"),
        ("voltage", 9.0, "V"),
        ("temperature", 282.15, "°C"),
        ("angle", math.radians(9), "°"),
        ("frequency", 9.0, "Hz"),
    ],
)
def test_a_bare_number_takes_the_usual_unit_and_says_that_it_was_assumed(kind: str, value: float, unit: str) -> None:
    quantity = parse_quantity("9", kind)
    assert quantity.value == pytest.approx(value, rel=1e-12)
    assert (quantity.unit, quantity.assumed) == (unit, True)


def test_a_bare_number_with_k_counts_thousands_of_the_usual_unit() -> None:
    quantity = parse_quantity("95k", "distance")
    assert (quantity.value, quantity.unit, quantity.assumed) == (95e6, "km", True)


@pytest.mark.parametrize(
    ("text", "kind", "value", "spread"),
    [
        ("9-13 in-lb", "torque", 11 * LBF_IN, 2 * LBF_IN),
        ("9 to 13 in-lb", "torque", 11 * LBF_IN, 2 * LBF_IN),
        ("9 in-lb - 13 in-lb", "torque", 11 * LBF_IN, 2 * LBF_IN),
        ("9…13 Nm", "torque", 11.0, 2.0),
        ("9–13 Nm", "torque", 11.0, 2.0),
        ("9 ± 0.5 Nm", "torque", 9.0, 0.5),
        ("9 Nm +/- 0,5 Nm", "torque", 9.0, 0.5),
        ("9 Nm ± 5 %", "torque", 9.0, 0.45),
        ("0.2 ± 0.5 Nm", "torque", 0.2, 0.5),
        ("between 5 and 10 s", "time", 7.5, 2.5),
        ("about from 5 to 10 s", "time", 7.5, 2.5),
        ("1/2-3/4 in", "length", 0.015875, 0.003175),
        ("2k-2.5k rpm", "speed", 37.5, 250 / 60),
        ("1,500 to 2,000 rpm", "speed", 1750 / 60, 250 / 60),
        ("-5 to 5 V", "voltage", 0.0, 5.0),
        ("700min-1 to 800min-1", "speed", 12.5, 50 / 60),
        ("700min-1-800min-1", "speed", 12.5, 50 / 60),
        ("0.5s-1 s", "time", 0.75, 0.25),
        ("1min-1.5 min", "time", 75.0, 15.0),
        ("12.6 VDC ± 0.1 V", "voltage", 12.6, 0.1),
        ("68 ± 9 °F", "temperature", 293.15, 5.0),
    ],
)
def test_ranges_and_plus_minus_carry_a_spread(text: str, kind: str, value: float, spread: float) -> None:
    quantity = parse_quantity(text, kind)
    assert quantity.value == pytest.approx(value, rel=1e-12)
    assert quantity.spread == pytest.approx(spread, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "question"),
    [
        ("1,500 Nm", "torque", "1.5 or 1500?"),
        ("1,500", "voltage", "1.5 or 1500?"),
        ("152.000 km", "distance", "152 or 152000?"),
        ("1.500 rpm", "speed", "1.5 or 1500?"),
        ("2,250k rpm", "speed", "2.25 or 2250?"),
        ("1,500e3 mm", "length", "1.5e3 or 1500e3?"),
        ("1,500e-3 rpm", "speed", "1.5e-3 or 1500e-3?"),
        ("500-1k rpm", "speed", "thousands?"),
        ("10 mil", "length", "millimetres"),
        ("0..5 s", "time", "0.5 s, or from 0 to 5 s?"),
        ("10 mil", "distance", "Miles or kilometres?"),
        ("95k m", "distance", "Metres or miles?"),
        ("95 thou", "distance", "Thousands of kilometres or of miles?"),
        ("68°", "temperature", "Celsius or Fahrenheit?"),
        ("68 deg", "temperature", "Celsius or Fahrenheit?"),
        ("300 k", "temperature", "Kelvin"),
    ],
)
def test_what_has_two_readings_is_asked_back(text: str, kind: str, question: str) -> None:
    with pytest.raises(QuantityUnclear) as asked:
        parse_quantity(text, kind)
    assert question in asked.value.message


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("", "torque", "Nothing was typed."),
        ("   ", "torque", "Nothing was typed."),
        ("in-lb", "torque", "no number"),
        ("nan", "voltage", "no number"),
        ("inf V", "voltage", "no number"),
        ("-inf V", "voltage", "no number"),
        ("5 V", "torque", "a unit of a voltage, not of a torque"),
        ("9 Nm", "speed", "a unit of a torque, not of a speed of rotation"),
        ("9 km", "time", "not of a time"),
        ("9 quux", "torque", "not a unit of a torque"),
        ("9 lb", "torque", "a torque has an arm as well"),
        ("9 LBS", "torque", "a torque has an arm as well"),
        ("9 kg", "torque", "a torque has an arm as well"),
        ("9 J", "torque", "is work"),
        ("9 mN", "torque", "not a unit"),
        ("9 MNm", "torque", "not a unit"),
        ("9 N/m", "torque", "not a unit"),
        ("5k", "torque", "not a unit"),
        ("5 M", "length", "not a unit"),
        ("5 m", "time", "minutes are written min"),
        ("5 m s", "time", "not a unit"),
        ("450 MV", "voltage", "a million volts"),
        ("-5 Nm", "torque", "below zero"),
        ("−5 rpm", "speed", "below zero"),
        ("-5 s", "time", "below zero"),
        ("-5 mm", "length", "below zero"),
        ("-5 km", "distance", "below zero"),
        ("-5 Hz", "frequency", "below zero"),
        ("-5 N", "force", "below zero"),
        ("-1 to 5 Nm", "torque", "below zero"),
        ("-400 C", "temperature", "absolute zero"),
        ("-1 K", "temperature", "absolute zero"),
        ("0 K", "temperature", "absolute zero"),
        ("20 °C ± 5 %", "temperature", "depends on its zero"),
        ("1e999 V", "voltage", "too large"),
        ("1e99999999 V", "voltage", "too large"),
        ("1,500,000e3 V", "voltage", "cannot be read as one number"),
        ("5- V", "voltage", "“- V” is not a unit"),
        ("5 - V", "voltage", "“- V” is not a unit"),
        ("5 -V", "voltage", "“-V” is not a unit"),
        ("5--V", "voltage", "“--V” is not a unit"),
        ("5-", "voltage", "“-” is not a unit"),
        ("1" * 61, "voltage", "61 characters"),
        ("2+3 V", "voltage", "nothing is calculated"),
        ("2*3 V", "voltage", "nothing is calculated"),
        ("10/2 V", "voltage", "nothing is calculated"),
        ("1/0 in", "length", "nothing is calculated"),
        ("9/13 Nm", "torque", "nothing is calculated"),
        ("13-9 Nm", "torque", "nothing is calculated"),
        ("2 - 1/2 in", "length", "nothing is calculated"),
        ("9-9 Nm", "torque", "nothing is calculated"),
        ("-5-5 V", "voltage", "nothing is calculated"),
        ("9 ± -1 Nm", "torque", "nothing is calculated"),
        ("9**9**9 m", "length", "nothing is calculated"),
        ("__import__('os').system('x')", "voltage", "no number"),
        ("12 V; 3", "voltage", "more than one number"),
        ("0x10 V", "voltage", "more than one number"),
        ("1_000 V", "voltage", "more than one number"),
        ("9*Nm", "torque", "not a unit"),
        ("1 min 30 s", "time", "more than one number"),
        ("1:30", "time", "more than one number"),
        ("5 ft 3 in", "length", "more than one number"),
        ("9 Nm 80 in-lb", "torque", "more than one number"),
        ("9 Nm to 80 in-lb", "torque", "two units"),
        ("9 13 Nm", "torque", "cannot be read as one number"),
        ("5'3\"", "length", "cannot be read as one number"),
        ("1,50,000 km", "distance", "cannot be read as one number"),
        ("1.2.3 V", "voltage", "cannot be read as one number"),
        ("5 and 10 s", "time", "more than one number"),
        ("between 5 to 10 s", "time", "more than one number"),
        ("from 5 s", "time", "only one end"),
        ("<5 s", "time", "is a limit"),
        ("up to 9 in-lb", "torque", "is a limit"),
        ("min 7 s", "time", "is a limit"),
        ("V 5", "voltage", "does not start with a number"),
        ("10² Nm", "torque", "not a unit"),
        ("10½0 in", "length", "more than one number"),
        ("1·5 V", "voltage", "more than one number"),
        ("٣ V", "voltage", "U+0663"),
        ("５ V", "voltage", "U+FF15"),
    ],
)
def test_what_is_no_quantity_is_refused_with_a_sentence(text: str, kind: str, sentence: str) -> None:
    with pytest.raises(QuantityRefused) as refused:
        parse_quantity(text, kind)
    assert sentence in str(refused.value)
    assert refused.value.hint


def test_lb_alone_is_told_what_would_be_right() -> None:
    with pytest.raises(QuantityRefused) as refused:
        parse_quantity("9 lb", "torque")
    assert "lbf·in" in refused.value.hint


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(QuantityRefused, match="torque, speed"):
        parse_quantity("9", "colour")


def test_five_thousand_fuzzed_texts_end_in_typed_errors_or_finite_values() -> None:
    chance = random.Random(2)  # seeded, so that a failure can be repeated
    noise = [
        *"0123456789.,'\"/-+±…~ ²⁻½−°×·*eEkK%()_:;<\t\x00\u200b\u202e\ufeff",
        *(" to ", " and ", "between ", "from ", "about ", "1/2", "1,500", "e99", "..", "min-1", "1/min", "^2"),
    ]
    understood = 0
    for kind in chance.choices(list(KINDS), k=5_000):
        units = [
            name
            for unit in KINDS[chance.choice([kind, chance.choice(list(KINDS))])].units
            for name in (unit.label, *unit.names)
        ]
        text = chance.choice(["", "9", "9-13", "1,500", "2 1/2"]) + "".join(
            chance.choices(noise, k=chance.randrange(5))
        )
        understood += _assert_finite_or_refused(text + chance.choice(["", " "]) + chance.choice(units), kind)
    assert 300 < understood < 4_500


@given(text=st.text(max_size=80), kind=st.sampled_from(list(KINDS)))
def test_any_text_ends_in_a_typed_error_or_a_finite_value(text: str, kind: str) -> None:
    _assert_finite_or_refused(text, kind)


@given(
    text=st.from_regex(r"[0-9.,' ]{1,12}(-|to|±)?[0-9.,/ ]{0,8} ?[A-Za-z°·/-]{0,6}", fullmatch=True),
    kind=st.sampled_from(list(KINDS)),
)
def test_any_near_miss_ends_in_a_typed_error_or_a_finite_value(text: str, kind: str) -> None:
    _assert_finite_or_refused(text, kind)


@given(mark=st.characters(categories=("C", "M", "Zl", "Zp")), place=st.integers(0, 6))
def test_characters_that_cannot_be_seen_are_refused_wherever_they_stand(mark: str, place: int) -> None:
    text = "9 in-lb"
    with pytest.raises(QuantityRefused, match=r"U\+"):
        parse_quantity(text[:place] + mark + text[place:], "torque")


def _assert_finite_or_refused(text: str, kind: str) -> bool:
    """Tell whether the text was understood."""
    understood, sentence = _outcome(text, kind)
    if understood is None:
        assert sentence
        assert sentence.isprintable()
        return False
    assert math.isfinite(understood.value)
    assert math.isfinite(understood.spread)
    assert understood.spread >= 0
    assert understood.value >= 0 or KINDS[kind].signed
    return True


def _outcome(text: str, kind: str) -> tuple[Quantity | None, str]:
    try:
        return parse_quantity(text, kind), ""
    except (QuantityRefused, QuantityUnclear) as refused:
        return None, str(refused)
