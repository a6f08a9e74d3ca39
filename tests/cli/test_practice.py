"""`triage practice` as it is typed, with lines on standard input."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from triage.cli import practice
from triage.cli.main import run
from triage.errors import EXIT_OK, EXIT_REFUSED, CommandRefused
from triage.knowledge.shipped import trees_folder
from triage.store.practised import practice_folder

LINES = ("tree", "1", "conclude", "", "0", "")


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return tmp_path / "home"


def typed(home: Path, *words: str, lines: tuple[str, ...] = LINES) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "triage", *words],
        input="\n".join((*lines, "")),
        env={**os.environ, "TRIAGE_HOME": str(home), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        timeout=120,
    )


def test_an_exercise_goes_to_its_debrief_and_is_kept_apart(home: Path) -> None:
    told = typed(home, "practice", "belt-squeal", "--seed", "3")
    assert told.returncode == EXIT_OK, told.stderr
    assert "PRACTICE: touch no vehicle · Squealing belt · level 1" in told.stdout
    assert "DEBRIEF" in told.stdout
    assert "The same vehicle again: triage practice belt-squeal --level 1 --seed 3" in told.stdout
    (record,) = practice_folder(home).iterdir()
    assert [json.loads(line)["kind"] for line in record.read_text("utf-8").splitlines()][-1] == "debriefed"
    assert str(record) in told.stderr
    assert typed(home, "sessions").stdout.count("belt-squeal") == 0


def test_the_debrief_is_written_where_it_is_asked_for_and_over_nothing(home: Path, tmp_path: Path) -> None:
    page = tmp_path / "debrief.txt"
    told = typed(home, "practice", "belt-squeal", "--seed", "3", "--debrief", str(page))
    assert told.returncode == EXIT_OK, told.stderr
    text = page.read_text("utf-8")
    assert text.startswith("PRACTICE: touch no vehicle")
    assert "Your way beside that of the reference" in text
    again = typed(home, "practice", "belt-squeal", "--seed", "3", "--debrief", str(page))
    assert again.returncode != EXIT_OK
    assert "DEBRIEF" not in again.stdout


def test_the_same_seed_is_the_same_exercise_word_for_word(home: Path) -> None:
    told = [typed(home, "practice", "belt-chirp", "--seed", "9", "--level", "5").stdout for _ in range(2)]
    assert told[0] == told[1]


def test_an_input_that_ends_leaves_the_exercise_and_tells_nothing(home: Path) -> None:
    told = typed(home, "practice", "--seed", "3", lines=("tree",))
    assert told.returncode == EXIT_OK
    assert "Practice has ended." in told.stdout
    assert "Hidden" not in told.stdout


def test_a_recorded_case_can_be_practised(home: Path) -> None:
    path = sorted((trees_folder() / "cases").glob("*.yaml"))[0]
    told = typed(home, "practice", "--case", str(path), "--seed", "1")
    assert told.returncode == EXIT_OK, told.stderr
    assert "recorded case" in " ".join(told.stdout.split())


def test_it_is_reached_from_the_chat(home: Path) -> None:
    told = typed(home, "chat", lines=("practice", "1", "1", *LINES))
    assert told.returncode == EXIT_OK, told.stderr
    assert 'Type "practice" for a made-up vehicle' in told.stdout
    assert "DEBRIEF" in told.stdout
    assert len(list(practice_folder(home).iterdir())) == 1
    assert not list(home.glob("*.jsonl"))


@pytest.mark.parametrize("words", [["no-such-symptom"], ["--seed", "-1"], ["--level", "9"]])
def test_what_cannot_be_is_refused_and_nothing_is_kept(
    words: list[str], home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(home))
    assert run(["practice", *words]) == EXIT_REFUSED
    assert not practice_folder(home).exists()


def test_it_does_not_start_beside_a_job_that_stands(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(home))
    monkeypatch.setattr("triage.app.standing_jobs.standing_jobs", lambda _: ("R-7",))
    with pytest.raises(CommandRefused, match="A job stands made safe at a vehicle: R-7"):
        practice.refuse_beside_a_job()
    assert run(["practice", "belt-squeal"]) == EXIT_REFUSED
    assert not practice_folder(home).exists()
