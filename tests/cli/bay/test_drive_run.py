"""`triage drive run`: figures as JSON, a page in words with charts, a picture, and every refusal a sentence."""

import json
from pathlib import Path
from typing import Any

import pytest

from triage.cli.main import run
from triage.errors import EXIT_FILE, EXIT_INTERRUPTED, EXIT_OK, EXIT_REFUSED

Output = pytest.CaptureFixture[str]
QUICK = ("seven-pulleys", "--event", "idle", "--seconds", "0.1")


def told(capsys: Output, *words: str) -> dict[str, Any]:
    assert run(["drive", "run", *words, "--json"]) == EXIT_OK
    fields: dict[str, Any] = json.loads(capsys.readouterr().out)
    return fields


def test_one_variant_is_that_of_the_layout(capsys: Output) -> None:
    fields = told(capsys, *QUICK)
    assert fields["layout"] == "seven-pulleys"
    assert fields["event"] == "idle"
    assert [(one["pulley"], one["fault"]) for one in fields["variants"]] == [("decoupler", None)]
    assert fields["variants"][0]["coast_s"] is None


def test_a_pulley_and_a_fault_can_be_asked_for(capsys: Output) -> None:
    (one,) = told(capsys, *QUICK, "--pulley", "one-way-clutch", "--fault", "slipping")["variants"]
    assert (one["pulley"], one["fault"]) == ("one-way-clutch", "slipping")


def test_the_same_input_gives_the_same_bytes(capsys: Output) -> None:
    assert told(capsys, *QUICK, "--series") == told(capsys, *QUICK, "--series")


def test_a_series_has_every_span_and_times_of_its_own(capsys: Output) -> None:
    series = told(capsys, *QUICK, "--series")["variants"][0]["series"]
    assert set(series["tension_n"]) >= {"crank", "alternator", "compressor"}
    assert {len(one) for one in series["tension_n"].values()} == {len(series["time_s"])}


def test_options_stand_for_keys_of_the_layout_and_are_said(capsys: Output, tmp_path: Path) -> None:
    shipped = Path("trees/layouts/seven-pulleys.yaml").read_text(encoding="utf-8")
    own = tmp_path / "own.yaml"
    own.write_text(shipped + "simulation: {arm_friction: 0 N·m, crank: {inertia: 0.2 kg·m²}, creep: false}\n", "utf-8")
    written = told(capsys, str(own), *QUICK[1:])
    options = ("--arm-friction", "0", "--crank-inertia", "0.2", "--creep", "false")
    typed = told(capsys, *QUICK, *options)
    assert written["variants"] == typed["variants"] != told(capsys, *QUICK)["variants"]
    assert not any("arm_friction 4" in one for one in typed["assumed"])


def test_a_layout_that_does_not_say_how_the_engine_turns_is_taken_as_listed_and_it_is_said(
    capsys: Output, tmp_path: Path
) -> None:
    shipped = Path("trees/layouts/seven-pulleys.yaml").read_text(encoding="utf-8")
    own = tmp_path / "own.yaml"
    own.write_text(shipped.replace("turns: clockwise, ", ""), "utf-8")
    assumed = told(capsys, str(own), *QUICK[1:])["assumed"]
    assert any("the listed order is taken as the running direction" in one for one in assumed)


def test_a_comparison_has_four_types_and_seven_faults_in_words_within_80_columns(capsys: Output) -> None:
    assert run(["drive", "run", *QUICK[:3], "--seconds", "0.05", "--compare"]) == EXIT_OK
    page = capsys.readouterr().out
    assert max(map(len, page.splitlines())) <= 80
    for words in ("solid pulley: ", "decoupler pulley, as fitted: ", "decoupler, grip-lost: ", "times as much"):
        assert words in page


def test_a_run_is_drawn_with_its_summary_in_words(capsys: Output, tmp_path: Path) -> None:
    target = tmp_path / "run.svg"
    assert run(["drive", "run", *QUICK, "--plot", str(target)]) == EXIT_OK
    picture, page = target.read_text(encoding="utf-8"), capsys.readouterr().out
    assert "<title>idle of seven-pulleys" in picture
    assert "span tension" in picture.split("<desc>")[1].split("</desc>")[0]
    assert "Speed of the alternator&#x27;s rotor" in picture
    assert "Speed of the alternator's rotor, r/min" in page


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (("no-such-drive", "--event", "idle"), EXIT_REFUSED, "There is no layout file"),
        (("tape-and-photo", "--event", "idle"), EXIT_REFUSED, "The layout does not give the position (at)"),
        (("stretch-belt", "--event", "idle"), EXIT_REFUSED, "The layout does not give"),
        ((*QUICK, "--fault", "haunted"), EXIT_REFUSED, "There is no fault “haunted”"),
        ((*QUICK, "--pulley", "solid", "--fault", "seized"), EXIT_REFUSED, "A solid pulley cannot have"),
        ((*QUICK, "--compare", "--fault", "seized"), EXIT_REFUSED, "--compare tries all"),
        ((*QUICK, "--rpm", "0"), EXIT_REFUSED, "must be more than zero"),
        ((*QUICK, "--rpm", "99999 rpm"), EXIT_REFUSED, "An engine speed of 99999 r/min"),
        ((*QUICK, "--ripple", "fast"), EXIT_REFUSED, "fast"),
        ((*QUICK, "--windage", "-1"), EXIT_REFUSED, "below zero"),
        ((*QUICK, "--creep", "maybe"), EXIT_REFUSED, "--creep takes true or false"),
        ((*QUICK, "--event", "explode"), EXIT_REFUSED, "invalid choice"),
        (("seven-pulleys",), EXIT_REFUSED, "--event"),
        (("pyproject.toml", "--event", "idle"), EXIT_FILE, "pyproject.toml"),
    ],
)
def test_what_cannot_be_is_said(capsys: Output, words: tuple[str, ...], code: int, sentence: str) -> None:
    assert run(["drive", "run", *words]) == code
    said = capsys.readouterr()
    assert not said.out
    assert sentence in said.err
    assert "Traceback" not in said.err


def test_ctrl_c_stops_a_run_and_writes_nothing(capsys: Output, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from triage.drive.motion import simulating

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(simulating, "carried", stopped)
    target = tmp_path / "run.svg"
    assert run(["drive", "run", *QUICK, "--plot", str(target)]) == EXIT_INTERRUPTED
    assert not target.exists()
    assert "Stopped. Nothing was written." in capsys.readouterr().err


def test_run_is_a_word_and_a_layout_of_that_name_is_reached_with_its_folder(
    capsys: Output, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "run").write_bytes(Path("trees/layouts/seven-pulleys.yaml").read_bytes())
    monkeypatch.chdir(tmp_path)
    assert run(["drive", "./run"]) == EXIT_OK
    assert "compressor" in capsys.readouterr().out
    assert run(["drive", "run"]) == EXIT_REFUSED
