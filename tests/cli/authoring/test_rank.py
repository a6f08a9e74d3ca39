"""The command that ranks the findings of recorded cases."""

import json
from pathlib import Path

import pytest

from triage.cli.main import run
from triage.errors import EXIT_FILE, EXIT_OK

DECOUPLER = "- id: one\n  symptom: shutdown-buzz\n  vehicle: {specified_pulley: decoupler}\n"
ROUGH = f"{DECOUPLER}  findings: {{spin-decoupler-ring: rough}}\n"
AGAINST_ITSELF = (
    "- id: two\n  symptom: shutdown-buzz\n  findings: {decoupler-drive-feel: slips, clutch-drive-feel: holds}\n"
)


def written(folder: Path, text: str) -> str:
    file = folder / "cases.yaml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_json_ranks_every_cause_from_the_likeliest_down(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rank", written(tmp_path, ROUGH), "--json"]) == EXIT_OK
    answer = json.loads(capsys.readouterr().out)
    assert list(answer) == ["cases"]
    (case,) = answer["cases"]
    assert (list(case), case["id"]) == (["id", "likely", "unlisted"], "one")
    assert case["likely"][0]["cause"] == "decoupler-bearing-worn"
    shares = [one["probability"] for one in case["likely"]]
    assert shares == sorted(shares, reverse=True)
    assert all(list(one) == ["cause", "probability", "present"] for one in case["likely"])


def test_each_case_is_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rank", written(tmp_path, ROUGH + AGAINST_ITSELF)]) == EXIT_OK
    first, second = capsys.readouterr().out.splitlines()
    assert first.startswith("one: Bearing in the clutch or decoupler pulley worn ")
    assert second == "two: the findings contradict each other"


def test_a_case_that_is_wrong_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rank", written(tmp_path, DECOUPLER.replace("buzz", "hum"))]) == EXIT_FILE
    assert capsys.readouterr().out == ""
