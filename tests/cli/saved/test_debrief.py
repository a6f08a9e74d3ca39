"""`triage debrief`: a session that is over beside what triage itself would have done."""

import json
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from triage.app.job import start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.shop.shop_file import Shop, accuracies
from triage.cli.main import run
from triage.errors import EXIT_OK, EXIT_REFUSED
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder
from triage.practice.of_session import score_session
from triage.store import TraceWriter

DEMO = sorted(demos_folder().glob("*.jsonl"))[0]


def test_every_choice_stands_there_with_what_it_lost(capsys: Any) -> None:
    assert run(["debrief", str(DEMO)]) == EXIT_OK
    told = capsys.readouterr().out
    assert told.startswith("Debrief of job demo-")
    assert "Nobody knows here what was really the matter" in told
    assert "Concluded: " in told


def test_the_same_is_told_as_data_and_its_steps_add_up(capsys: Any) -> None:
    assert run(["debrief", str(DEMO), "--json"]) == EXIT_OK
    told = json.loads(capsys.readouterr().out)
    assert sum(one["lost_min"] for one in told["steps"]) == pytest.approx(told["lost_min"], abs=1.5)
    assert told["concluded"]
    assert all(one["part"] in ("check", "conclusion") for one in told["steps"])


def test_no_check_is_counted_twice_because_its_answer_was_put_right() -> None:
    for demo in demos_folder().glob("*.jsonl"):
        replayed = replay(demo)
        checks = [one for go in score_session(replayed.knowledge, replayed.events).course.goes for one in go.checks]
        assert len(checks) == len(set(checks)) > 5


def test_a_session_that_is_not_over_is_refused(knowledge: Knowledge, tmp_path: Path, capsys: Any) -> None:
    times = count(0, 10)
    opening = Opening(symptom="belt-squeal", job="R-7", who="Kim")
    writer = TraceWriter.create(tmp_path, "job")
    start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), writer).leave()
    assert run(["debrief", str(tmp_path / "job.jsonl")]) == EXIT_REFUSED
    assert "This session is not over." in capsys.readouterr().err
