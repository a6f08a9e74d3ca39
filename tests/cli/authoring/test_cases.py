"""The command that walks recorded cases."""

import json
from pathlib import Path

import pytest

from triage.cli.main import run
from triage.errors import EXIT_DISAGREES, EXIT_FILE, EXIT_OK

NORMAL = "- id: normal\n  symptom: shutdown-buzz\n  cause: []\n"
WRONG = "- id: wrong\n  symptom: shutdown-buzz\n  cause: [belt-worn]\n"
OPEN = "- id: open\n  symptom: shutdown-buzz\n"

COUNTS = ("confirmations", "confirmations_job", "engine_starts", "minutes_with_changes")


def written(folder: Path, name: str, text: str) -> str:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_json_holds_what_the_cases_come_to(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cases", written(tmp_path, "a.yaml", NORMAL + OPEN), "--json"]) == EXIT_OK
    shown = capsys.readouterr()
    answer = json.loads(shown.out)
    assert list(answer) == ["cases", "agreed", "total"]
    assert [list(case) for case in answer["cases"]] == [
        ["id", "concluded", "likely", "checks", "minutes", "agrees", *COUNTS]
    ] * 2
    assert [(case["id"], case["concluded"], case["agrees"]) for case in answer["cases"]] == [
        ("normal", [], True),
        ("open", [], None),
    ]
    assert (answer["agreed"], answer["total"]) == (1, 2)
    assert "shutdown-listen" in answer["cases"][0]["checks"]
    assert answer["cases"][0]["minutes"] > 0
    assert shown.err == ""


def test_one_case_that_disagrees_gives_exit_code_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = [written(tmp_path, "a.yaml", NORMAL), written(tmp_path, "b.yaml", WRONG)]
    assert run(["cases", *files]) == EXIT_DISAGREES
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["case", "agrees", "concluded", "checks", "minutes"]
    assert lines[1].split()[:3] == ["normal", "agrees", "nothing"]
    assert lines[2].split()[:3] == ["wrong", "DISAGREES", "nothing"]
    assert lines[-1] == "1 of 2 agree."


def test_a_file_that_is_wrong_is_refused_with_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = written(tmp_path, "a.yaml", NORMAL.replace("shutdown-buzz", "hum"))
    assert run(["cases", file, "--json"]) == EXIT_FILE
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"{file}:2:")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cases", str(tmp_path / "none.yaml")]) == EXIT_FILE
    assert "cannot be read" in capsys.readouterr().err
