"""`triage overview` and `triage practice progress`, over records that the program itself has written."""

import argparse
import json
from pathlib import Path

import pytest

from triage.cli import overview, practice
from triage.errors import EXIT_OK
from triage.store.practised import PracticeRecord

LEFT = {"who": "Bo", "at": "2026-03-04T10:00:00+00:00"}
DONE = {
    "made": ["tensioner-weak"],
    "lost_min": {"check": 4.0},
    "safety": ["drawn-in"],
    "hints_min": 0.0,
    "brier": None,
    "judged": 12,
    "misread": ["belt-condition"],
}


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    for who in ("Ada", "<b>Bo</b>\x1b[31m"):
        record = PracticeRecord.begin(tmp_path, "belt-chirp")
        record.add("learner", {**LEFT, "who": who})
        record.add("begun", {"symptom": "belt-chirp", "level": 1})
        record.add("concluded", {"causes": []})
        record.add("debriefed", DONE)
        record.close()
    (tmp_path / "practice" / "PRACTICE-odd.jsonl").write_bytes(b'{"practice": 3}\n\xff\n')
    return tmp_path


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    commands = parser.add_subparsers()
    overview.add(commands)
    practice.add(commands)
    args = parser.parse_args(words)
    return int(args.run(args))


def test_a_learner_sees_own_weeks_and_nobody_elses(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("practice", "progress", "--who", "Ada") == EXIT_OK
    told = capsys.readouterr().out
    assert "PRACTICE of Ada: 1 exercise" in told
    assert "2026-W10" in told
    assert "Condition of the belt" in told
    assert "Bo" not in told
    run("practice", "progress", "--who", "Ada", "--json")
    assert json.loads(capsys.readouterr().out)["weeks"][0]["exercises"] == 1


def test_the_foreman_sees_all_of_them_as_text_as_data_and_as_a_page(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = home / "overview.html"
    assert run("overview", "--page", str(page)) == EXIT_OK
    told = capsys.readouterr().out
    assert "Ada: 1 made" in told
    assert "\x1b" not in told
    text = page.read_text("utf-8")
    assert "<b>" not in text
    assert "&lt;b&gt;" in text
    assert "default-src 'none'" in text
    run("overview", "--json", "--masked")
    seen = json.loads(capsys.readouterr().out)
    assert [one["who"] for one in seen["learners"]] == ["learner 1", "learner 2"]
    assert run("overview", "--since", "2026-04-01", "--json") == EXIT_OK
    assert json.loads(capsys.readouterr().out)["learners"] == []
