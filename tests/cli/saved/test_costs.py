"""`triage costs` on the shipped demos."""

import json

import pytest

from triage.cli.main import run
from triage.errors import EXIT_FILE
from triage.knowledge.shipped import demos_folder

DEMO = str(demos_folder() / "worn-bearing.jsonl")


def test_the_table_of_a_demo_is_printed_with_its_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["costs", DEMO]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("Job demo-1: Buzz after switching off\n")
    assert "Prices: invented for the demo." in printed
    assert "* least expected cost" in printed
    assert max(map(len, printed.splitlines())) <= 78


def test_the_same_comes_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["costs", DEMO, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["recorded"] is True
    totals = [one["total"] for one in told["costs"]["visits"]]
    assert totals == sorted(totals)


def test_a_session_that_is_not_there_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["costs", "no-such"]) == EXIT_FILE
    assert "There is no session no-such." in capsys.readouterr().err
