"""The command that turns free words into symptoms."""

import json
import subprocess
import sys

import pytest

from triage.cli import main
from triage.cli.authoring import symptom
from triage.errors import EXIT_OK, EXIT_REFUSED


def test_json_has_matches_with_symptom_and_score_best_first(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["symptom", "buzzes for a few seconds after I turn it off", "--json"]) == EXIT_OK
    shown = capsys.readouterr()
    answer = json.loads(shown.out)
    assert list(answer) == ["matches"]
    assert all(list(match) == ["symptom", "score"] for match in answer["matches"])
    assert answer["matches"][0]["symptom"] == "shutdown-buzz"
    scores = [match["score"] for match in answer["matches"]]
    assert scores == sorted(scores, reverse=True)
    assert shown.err == ""


@pytest.mark.parametrize("text", ["brakes squeal", "the radio buzzes", "oil on the floor", "", "\x1b[2J\u202e"])
def test_json_is_empty_when_nothing_fits(text: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["symptom", text, "--json"]) == EXIT_OK
    assert json.loads(capsys.readouterr().out) == {"matches": []}


def test_people_read_the_names_or_that_nothing_fits(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["symptom", "buzzes after I switch it off"]) == EXIT_OK
    assert "shutdown-buzz  Buzz after switching off\n" in capsys.readouterr().out
    assert main.run(["symptom", "brakes squeal"]) == EXIT_OK
    assert capsys.readouterr().out == f"{symptom.NOTHING_FITS}\n"


def test_a_text_without_end_is_refused_in_a_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["symptom", "squeal " * 5000, "--json"]) == EXIT_REFUSED
    told = capsys.readouterr()
    assert told.out == ""
    assert "35000 characters" in told.err


def test_adding_the_command_loads_no_library() -> None:
    program = (
        "import argparse, sys; from triage.cli.authoring import symptom;"
        "symptom.add(argparse.ArgumentParser().add_subparsers()); sys.exit('rapidfuzz' in sys.modules)"
    )
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
