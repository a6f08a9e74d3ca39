"""The command for a vehicle's accessory drive."""

import argparse
import json
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from triage.cli.bay import drive
from triage.errors import EXIT_OK, DocumentFaulty, QuantityImplausible, QuantityRefused, StoreUnavailable, TriageError


def run(*words: str) -> int:
    parser = argparse.ArgumentParser(prog="triage")
    drive.add(parser.add_subparsers())
    args = parser.parse_args(["drive", *words])
    code = args.run(args)
    assert isinstance(code, int)
    return code


def test_json_stands_alone_on_stdout_in_pulley_order(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("two-pulleys", "--rpm", "1800", "--json") == EXIT_OK
    said = capsys.readouterr()
    fields = json.loads(said.out)
    assert said.err == ""
    assert fields["parts"] == ["crank", "alternator"]
    assert fields["turns_per_s"] == pytest.approx([30, 30 * 130 / 58])
    assert fields["ratios"] == pytest.approx([1, 130 / 58])
    assert fields["natural_hz"][0] == 0


def test_unknown_is_null_with_its_reason(capsys: pytest.CaptureFixture[str]) -> None:
    run("tape-and-photo", "--json")
    fields = json.loads(capsys.readouterr().out)
    assert fields["spans_m"] is None
    assert "position" in fields["reasons"]["spans_m"]
    assert fields["slip_margin"]["steady"]["solid"] is None
    assert "belt.friction" in fields["reasons"]["slip_margin.steady.solid"]


def test_a_speed_may_be_typed_with_its_unit(capsys: pytest.CaptureFixture[str]) -> None:
    run("two-pulleys", "--rpm", "2.2k rpm", "--slowing", "3000", "--json")
    fields = json.loads(capsys.readouterr().out)
    assert fields["rpm"] == pytest.approx(2200)
    assert fields["slowing_rpm_per_s"] == pytest.approx(3000)


@pytest.mark.parametrize("option", ["--rpm", "--slowing", "--speeding"])
def test_a_speed_that_no_engine_has_is_asked_about(option: str) -> None:
    with pytest.raises(QuantityImplausible, match="more than any engine has"):
        run("two-pulleys", option, "420000")


def test_speeding_up_can_be_asked_too(capsys: pytest.CaptureFixture[str]) -> None:
    run("four-cylinder-full", "--speeding", "3000", "--json")
    shares = json.loads(capsys.readouterr().out)["grip_used"]
    assert shares["speeding"]["solid"][2] > shares["steady"]["solid"][2] > shares["slowing"]["solid"][2]
    run("four-cylinder-full", "--speeding", "3000")
    assert "While the crank gains speed as asked" in capsys.readouterr().out


def test_the_page_has_the_drawing_and_the_notice(capsys: pytest.CaptureFixture[str]) -> None:
    run("four-cylinder-full")
    page = capsys.readouterr().out
    assert "ooo" in page
    assert "The vehicle maker's procedure decides." in page


def test_a_counted_repeat_is_compared_with_what_turns(capsys: pytest.CaptureFixture[str]) -> None:
    run("two-pulleys", "--rpm", "900", "--repeat", "7.1 ± 0.2 Hz")
    assert "It fits lap and nothing else here." in capsys.readouterr().out
    run("two-pulleys", "--rpm", "900", "--repeat", "15 ± 0.2 Hz", "--json")
    assert set(json.loads(capsys.readouterr().out)["repeat"]["fits"]) == {"crank", "firing"}


def test_a_repeat_needs_its_spread_and_a_speed() -> None:
    with pytest.raises(QuantityRefused, match="how sure"):
        run("two-pulleys", "--repeat", "7 Hz")
    with pytest.raises(QuantityRefused, match="engine's speed"):
        run("tape-and-photo", "--repeat", "7 ± 1 Hz")


def test_a_picture_is_written_and_said_on_stderr(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "drive.svg"
    run("stretch-belt", "--picture", str(file), "--json")
    said = capsys.readouterr()
    json.loads(said.out)
    assert str(file) in said.err
    assert ET.parse(file).getroot().get("role") == "img"  # noqa: S314


def test_a_picture_that_cannot_be_written_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailable, match="Name another file"):
        run("stretch-belt", "--picture", str(tmp_path / "nowhere" / "drive.svg"))
    with pytest.raises(TriageError, match="not every pulley has a position"):
        run("tape-and-photo", "--picture", str(tmp_path / "drive.svg"))


def test_a_layout_file_of_ones_own_is_read_and_its_faults_have_places(tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text("pulleys:\n  - {part: crank, diameter: 160 kg}\n", encoding="utf-8")
    with pytest.raises(DocumentFaulty, match=r"mine\.yaml:2:29"):
        run(str(file))


def test_a_name_that_is_no_file_lists_what_came_with_the_program() -> None:
    with pytest.raises(TriageError, match=r"stretch-belt, tape-and-photo, two-pulleys"):
        run("nowhere")


def test_no_statistics_library_is_ever_loaded() -> None:
    script = (
        "import sys; from triage.cli.main import run; code = run(['drive', 'four-cylinder-full', '--json']); "
        "print(code, 'scipy.stats' in sys.modules, file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "0 False"


def test_a_hostile_picture_name_does_nothing_to_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run("stretch-belt", "--picture", str(tmp_path / "a\x1b[2Jb.svg"))
    assert capsys.readouterr().err.endswith("a‹1B›[2Jb.svg.\n")
