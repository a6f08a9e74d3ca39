"""From typed text to SI figures: what is added, derived, assumed, and left out."""

import math

import pytest

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import Drive, assemble
from triage.record.layout import Layout


def drive_of(text: str) -> Drive:
    return assemble(build(read_text(text, "layout.yaml"), Layout))


def test_diameters_become_pitch_diameters() -> None:
    drive = drive_of("""
belt: {cord_to_back: 1.5 mm}
pulleys:
  - {part: crank, diameter: 160 mm, diameter_is: effective}
  - {part: alternator, diameter: 60 mm, diameter_is: pitch}
  - {part: idler, diameter: 70 mm, diameter_is: outside, side: back}
""")
    # ISO 9981:2020, 5.4, seen: effective plus twice 2 mm; on the back the cord runs outside the rim by its distance.
    assert [member.pitch_m for member in drive.members] == pytest.approx([0.164, 0.060, 0.073])
    assert drive.assumed == ()


def test_what_a_tape_measured_is_taken_with_a_word_about_it() -> None:
    drive = drive_of("""
pulleys:
  - {part: crank, diameter: 160 mm}
  - {part: idler, diameter: 70 mm, side: back}
""")
    assert [member.pitch_m for member in drive.members] == pytest.approx([0.164, 0.0724])
    assert [sentence.partition(":")[0] for sentence in drive.assumed] == ["crank", "idler"]
    assert all("as a tape measures it" in sentence and "from memory" in sentence for sentence in drive.assumed)
    assert "1.2 mm ± 0.3 mm" in drive.assumed[-1]


def test_the_length_printed_on_a_belt_is_taken_out_to_its_cord() -> None:
    drive = drive_of("""
belt: {length: 1750 mm, length_is: effective}
pulleys: [{part: crank, diameter: 160 mm}, {part: alternator, diameter: 56 mm}]
""")
    assert drive.belt_m == pytest.approx(1.750 + 2 * math.pi * 0.002)


@pytest.mark.parametrize(
    ("given", "whole", "rim", "rotor"),
    [
        ("inertia: 34 kg·cm²", 34, None, None),
        ("inertia: 34 kg·cm², rim_inertia: 3 kg·cm²", 34, 3, 31),
        ("inertia: 34 kg·cm², rotor_inertia: 31 kg·cm²", 34, 3, 31),
        ("rim_inertia: 3 kg·cm², rotor_inertia: 31 kg·cm²", 34, 3, 31),
        ("rotor_inertia: 31 kg·cm²", None, None, 31),
    ],
)
def test_the_third_inertia_follows_from_two(
    given: str, whole: float | None, rim: float | None, rotor: float | None
) -> None:
    drive = drive_of(f"""
pulleys:
  - {{part: crank, diameter: 160 mm}}
  - {{part: alternator, diameter: 56 mm, {given}}}
""")
    member = drive.members[1]
    found = (member.inertia_kg_m2, member.rim_kg_m2, member.rotor_kg_m2)
    for value, expected in zip(found, (whole, rim, rotor), strict=True):
        assert value == (None if expected is None else pytest.approx(expected * 1e-4))


def test_idlers_take_no_torque_and_other_parts_an_unknown_one() -> None:
    drive = drive_of("""
pulleys:
  - {part: crank, diameter: 160 mm}
  - {part: arm-pulley, diameter: 76 mm, side: back}
  - {part: idler-2, diameter: 70 mm, side: back}
  - {part: alternator, diameter: 56 mm}
tensioner: {pulley: arm-pulley}
""")
    assert [member.load_nm for member in drive.members] == [None, 0.0, 0.0, None]
    assert drive.tensioner == 1
    assert drive.arm is None
    assert drive.alternator == 3


def test_without_an_alternator_the_part_that_states_a_type_is_the_one_that_matters() -> None:
    drive = drive_of("""
pulleys:
  - {part: crank, diameter: 160 mm}
  - {part: starter-generator, diameter: 56 mm, pulley: isolator}
""")
    assert drive.alternator == 1


def test_bare_numbers_are_in_the_usual_units() -> None:
    drive = drive_of("""
tension: 300
pulleys: [{part: crank, diameter: 160, diameter_is: pitch}, {part: pump, diameter: 5 in, diameter_is: pitch}]
engine: {cylinders: 4, idle: 750}
""")
    assert drive.members[0].pitch_m == pytest.approx(0.160)
    assert drive.members[1].pitch_m == pytest.approx(0.127)
    assert drive.tension_n == 300
    assert drive.idle_rev_s == pytest.approx(12.5)
