"""Layouts that cannot be: each fault stands at its line and column and says what would be right."""

from pathlib import Path

import pytest

from triage.drive.layout.assembly import assemble
from triage.drive.layout.placement import read_layout
from triage.errors import DocumentFaulty, TriageError

SOUND = """\
belt: {length: 1.514 m}
pulleys:
  - {part: crank, at: [552.5 mm, 55.6 mm], diameter: 177.8 mm, diameter_is: pitch}
  - {part: tensioner, at: [347.7 mm, 57.15 mm], diameter: 90.4 mm, diameter_is: pitch, side: back}
  - {part: alternator, at: [0 mm, 0 mm], diameter: 53.94 mm, diameter_is: pitch}
tensioner: {pulley: tensioner}
"""


def faults_after(tmp_path: Path, old: str, new: str) -> list[str]:
    assert old in SOUND
    file = tmp_path / "layout.yaml"
    file.write_text(SOUND.replace(old, new), encoding="utf-8")
    with pytest.raises(DocumentFaulty) as caught:
        read_layout(file)
    return [str(fault).removeprefix(f"{file}:") for fault in caught.value.faults]


def test_a_sound_layout_is_taken(tmp_path: Path) -> None:
    file = tmp_path / "layout.yaml"
    file.write_text(SOUND, encoding="utf-8")
    assert [pulley.part for pulley in read_layout(file).pulleys] == ["crank", "tensioner", "alternator"]


@pytest.mark.parametrize(
    ("old", "new", "place", "message", "hint"),
    [
        ("347.7 mm", "480 mm", "4:5", "'tensioner' overlaps 'crank' by", "Check the order"),
        ("53.94 mm, diameter_is: pitch", "53.94 mm, side: back", "5:5", "'alternator'", "Check the order"),
        ("part: alternator", "part: tensioner", "5:12", "'tensioner' stands here a second time", "its own name"),
        ("part: alternator", "part: crank", "5:12", "'crank' stands here a second time", "its own name"),
        ("pulley: tensioner", "pulley: idler", "6:21", "cannot be 'idler'", "one of these: tensioner."),
        ("pulley: tensioner", "pulley: crank", "6:21", "cannot be 'crank'", "one of these: tensioner."),
        ("length: 1.514 m", "length: 1.42 m", "1:16", "is too short: the way round these pulleys is 1514 mm", "again"),
        ("length: 1.514 m", "length: 1.6 m", "1:16", "is too long", "again"),
        ("length: 1.514 m}", "length: 1.514 m}\ngroove_angle: 200 deg", "2:15", "10° and 180°", "40°"),
        ("length: 1.514 m", "friction: 35", "1:18", "friction above 2", "without the grooves"),
        ("pulley: tensioner", "pulley: alternator", "6:21", "only turns along", "one of these: tensioner."),
        (
            "{pulley: tensioner}",
            "{pulley: tensioner, pivot: [347.7 mm, 57.15 mm]}",
            "6:39",
            "so the arm has no length",
            "the bolt that the arm turns on",
        ),
        (
            "{pulley: tensioner}",
            "{pulley: tensioner}\nengine: {idle: 750 Hz}",
            "7:16",
            "idles at 45000 r/min",
            "750 rpm",
        ),
        ("{pulley: tensioner}", "{pulley: tensioner}\nengine: {idle: 12}", "7:16", "200 to 2000", "750 rpm"),
        (
            "53.94 mm,",
            "53.94 mm, pulley: solid, spring: 16 N·m/rad,",
            "5:85",
            "solid pulley has no spring",
            "Leave spring out",
        ),
        ("53.94 mm,", "53.94 mm, pulley: one-way-clutch, spring: 16,", "5:94", "no spring", "or decoupler"),
        (
            "diameter: 90.4 mm, diameter_is: pitch",
            "diameter: 90 mm, diameter_is: effective",
            "4:79",
            "no effective diameter",
            "outside",
        ),
        (
            "53.94 mm,",
            "53.94 mm, inertia: 3 kg·cm², rim_inertia: 2 kg·cm², rotor_inertia: 2 kg·cm²,",
            "5:71",
            "Rim and rotor of 'alternator' do not add up",
            "Leave one",
        ),
    ],
)
def test_what_cannot_be_is_refused(tmp_path: Path, old: str, new: str, place: str, message: str, hint: str) -> None:
    faults = faults_after(tmp_path, old, new)
    assert len(faults) == 1
    assert faults[0].startswith(place)
    assert message in faults[0]
    assert hint in faults[0]


def test_the_crank_stands_first(tmp_path: Path) -> None:
    lines = SOUND.splitlines(keepends=True)
    file = tmp_path / "layout.yaml"
    file.write_text("".join([*lines[:2], lines[3], lines[2], lines[4]]), encoding="utf-8")
    with pytest.raises(DocumentFaulty, match=r"layout\.yaml:4:12: The crank should stand first\."):
        read_layout(file)


def test_one_pulley_is_no_drive(tmp_path: Path) -> None:
    file = tmp_path / "layout.yaml"
    file.write_text("pulleys: [{part: crank, diameter: 160 mm}]", encoding="utf-8")
    with pytest.raises(DocumentFaulty, match="at least two pulleys"):
        read_layout(file)


def test_all_faults_are_named_at_once(tmp_path: Path) -> None:
    faults = faults_after(tmp_path, "part: alternator, at: [0 mm, 0 mm]", "part: crank, at: [0 mm, 0 s]")
    assert len(faults) == 1
    file = tmp_path / "layout.yaml"
    text = SOUND.replace("alternator", "crank").replace("pulley: tensioner", "pulley: idler")
    file.write_text(text.replace("90.4 mm, diameter_is: pitch", "90.4 mm, diameter_is: effective"), encoding="utf-8")
    with pytest.raises(DocumentFaulty) as caught:
        read_layout(file)
    assert len(caught.value.faults) == 3


def test_friction_and_idle_are_named_together_with_a_belt_that_cannot_run(tmp_path: Path) -> None:
    file = tmp_path / "layout.yaml"
    text = SOUND.replace("length: 1.514 m", "friction: 35").replace("347.7 mm", "480 mm")
    file.write_text(f"{text}engine: {{idle: 750 Hz}}\n", encoding="utf-8")
    with pytest.raises(DocumentFaulty) as caught:
        read_layout(file)
    said = [fault.message for fault in caught.value.faults]
    assert len(said) == 3
    assert all(any(word in one for one in said) for word in ("friction", "idles", "overlaps"))


def test_a_pulley_that_takes_torque_is_on_no_arm_but_an_idle_one_by_any_name_is(tmp_path: Path) -> None:
    driven = "part: tensioner, torque: 2 N·m,"
    assert "only turns along" in faults_after(tmp_path, "part: tensioner,", driven)[0]
    file = tmp_path / "layout.yaml"
    file.write_text(
        SOUND.replace("tensioner, at", "roller, at").replace("pulley: tensioner", "pulley: roller"), "utf-8"
    )
    assert read_layout(file).tensioner is not None


def test_a_belt_that_could_run_either_way_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "layout.yaml"
    file.write_text(
        "pulleys:\n"
        "  - {part: crank, at: [0 mm, 0 mm], diameter: 100 mm}\n"
        "  - {part: idler, at: [250 mm, 0 mm], diameter: 40 mm, side: back}\n"
        "  - {part: alternator, at: [500 mm, 0 mm], diameter: 100 mm}\n",
        encoding="utf-8",
    )
    with pytest.raises(DocumentFaulty, match="either way round"):
        read_layout(file)


def test_a_missing_position_is_no_fault(tmp_path: Path) -> None:
    file = tmp_path / "layout.yaml"
    file.write_text(SOUND.replace("at: [0 mm, 0 mm], ", "").replace("length: 1.514 m", "ribs: 6"), encoding="utf-8")
    assert read_layout(file).pulleys[2].at is None


def test_a_file_that_is_not_there_is_said_to_be_missing(tmp_path: Path) -> None:
    with pytest.raises(TriageError):
        read_layout(tmp_path / "nowhere.yaml")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("belt: {", "tension: 40000 N\nbelt: {", "No drive has tension 40000 N: up to 5000 N is taken"),
        ("53.94 mm, diameter_is: pitch", "53.94 mm, diameter_is: pitch, torque: 400 N·m", "alternator.torque 400 N·m"),
        ("length: 1.514 m", "length: 1.514 m, stiffness: 5000 kN", "belt.stiffness 5000 kN: up to 2000000 N"),
        ("at: [0 mm, 0 mm]", "at: [0 mm, 40 m]", "alternator.at 40 m"),
    ],
)
def test_what_is_larger_than_anything_in_a_drive_is_asked_about(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert said in "\n".join(faults_after(tmp_path, old, new))


def test_a_pulley_on_the_wrong_side_is_named_with_the_side_on_which_the_belt_runs(tmp_path: Path) -> None:
    fault = faults_after(tmp_path, "53.94 mm, diameter_is: pitch", "53.94 mm, side: back")[0]
    assert "It runs with 'alternator' on the ribs." in fault


def test_two_neighbours_in_each_others_place_are_named(tmp_path: Path) -> None:
    file = tmp_path / "swapped.yaml"
    file.write_text(
        "engine: {turns: clockwise}\n"
        "pulleys:\n"
        "  - {part: crank, at: [0 mm, 0 mm], diameter: 150 mm}\n"
        "  - {part: pump, at: [0 mm, 400 mm], diameter: 100 mm}\n"
        "  - {part: alternator, at: [-300 mm, 250 mm], diameter: 60 mm}\n"
        "  - {part: compressor, at: [300 mm, 100 mm], diameter: 110 mm}\n",
        encoding="utf-8",
    )
    with pytest.raises(DocumentFaulty, match="It runs with 'pump' and 'alternator' swapped in the list"):
        read_layout(file)


def test_a_pulley_that_the_belt_does_not_reach_is_said_to_be_passed_by(tmp_path: Path) -> None:
    """The straight span from crank to alternator, both 100 mm wide, lies 50 mm above their centres."""
    file = tmp_path / "far.yaml"
    file.write_text(
        "engine: {turns: anticlockwise}\n"
        "pulleys:\n"
        "  - {part: crank, at: [0 mm, 0 mm], diameter: 100 mm, diameter_is: pitch}\n"
        "  - {part: alternator, at: [500 mm, 0 mm], diameter: 100 mm, diameter_is: pitch}\n"
        "  - {part: idler, at: [250 mm, 100 mm], diameter: 40 mm, diameter_is: pitch, side: back}\n",
        encoding="utf-8",
    )
    with pytest.raises(DocumentFaulty) as caught:
        read_layout(file)
    hint = caught.value.faults[0].hint
    # 100 − 50 − 20 mm are left between them.
    assert "The belt does not reach 'idler': from 'alternator' to 'crank' it would pass 30 mm away from it." in hint


def test_the_engines_turn_settles_which_way_a_doubtful_belt_runs(tmp_path: Path) -> None:
    file = tmp_path / "either.yaml"
    file.write_text(
        "engine: {turns: clockwise}\n"
        "pulleys:\n"
        "  - {part: crank, at: [0 mm, 0 mm], diameter: 100 mm}\n"
        "  - {part: idler, at: [250 mm, 0 mm], diameter: 40 mm, side: back}\n"
        "  - {part: alternator, at: [500 mm, 0 mm], diameter: 100 mm}\n",
        encoding="utf-8",
    )
    assert len(read_layout(file).pulleys) == 3


def test_a_second_pulley_with_a_clutch_or_spring_is_said_to_count_as_solid(tmp_path: Path) -> None:
    file = tmp_path / "two-clutches.yaml"
    text = SOUND.replace("177.8 mm,", "177.8 mm, pulley: isolator,").replace(
        "53.94 mm,", "53.94 mm, pulley: decoupler,"
    )
    file.write_text(text, encoding="utf-8")
    drive = assemble(read_layout(file))
    assert any(said.startswith("crank: its isolator pulley is counted as a solid one") for said in drive.assumed)
    assert not any(said.startswith("alternator: its") for said in drive.assumed)
    assert drive.alternator == 2
