"""A small version of tests/bench/soak_keys.py, and proof that its watcher can see what it watches for."""

import json
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("pty")
from tests.bench import soak_keys, soak_watcher
from triage.app.cases import Recorded, read_cases
from triage.app.job import start
from triage.app.opening import Opening
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.store import TraceWriter

CASES = trees_folder() / "cases" / "shutdown-buzz.yaml"
Lines = list[dict[str, Any]]


def test_random_keys_neither_end_the_program_nor_pass_an_interlock() -> None:
    counts = soak_keys.soak(300, seed=3)
    assert counts["keys"] >= 300
    assert counts["steps offered"] > 5


@pytest.fixture
def ran(knowledge: Knowledge, tmp_path: Path) -> Path:
    """The trace of a session that has come to a check beside a running engine."""
    case = next(case for case in read_cases(CASES, knowledge) if case.id == "buzz-timed-only")
    seconds = count(1_772_438_400_000, 1000)
    writer = TraceWriter.create(tmp_path, "ran")
    opening = Opening(symptom=case.symptom, job="J-1", who="Ada")
    job = start(knowledge, opening, {}, "", lambda: next(seconds), writer)
    while job.state.condition.engine != "running":
        command = Recorded(case).answer(knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    job.leave()
    return writer.path


def lines_of(path: Path) -> Lines:
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def watched(path: Path, lines: Lines) -> Any:
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
    watcher = soak_watcher.Watcher(path)
    watcher.look()
    return watcher


def test_the_watcher_finds_nothing_in_a_sound_trace(ran: Path) -> None:
    assert watched(ran, lines_of(ran)).counts["of them with the engine running"] > 0


@pytest.mark.parametrize("kind", ["thing-confirmed", "state-entered"])
def test_the_watcher_misses_what_was_left_out_before_a_running_engine(ran: Path, kind: str) -> None:
    lines = lines_of(ran)
    needed = next(line for line in lines if line["kind"] == kind and line["data"]["state"] == "running")
    with pytest.raises(AssertionError, match=r"is entered without|outside of running"):
        watched(ran, [line for line in lines if line is not needed])


def test_the_watcher_sees_what_has_ended_although_the_trace_goes_on(ran: Path) -> None:
    *before, offered = lines_of(ran)
    changed = {**offered, "kind": "something-changed", "data": {**offered["data"], "what": "stepped-in"}}
    del changed["data"]["step"]
    with pytest.raises(AssertionError, match="nobody-in was ended: stepped-in"):
        watched(ran, [*before, changed, offered])


def test_the_watcher_sees_an_engine_that_runs_for_too_long(ran: Path) -> None:
    *before, offered = lines_of(ran)
    later = datetime.fromisoformat(offered["time"]) + timedelta(minutes=15)
    clock_ms = offered["data"]["clock_ms"] + 15 * 60_000
    late = {**offered, "time": later.isoformat(), "data": {**offered["data"], "clock_ms": clock_ms}}
    with pytest.raises(AssertionError, match="run for too long"):
        watched(ran, [*before, late])


def test_the_watcher_misses_that_a_jump_of_the_clock_was_noticed(ran: Path) -> None:
    watcher = watched(ran, lines_of(ran))
    ledger = watcher.account.ledger
    watcher.hold_now(ledger.wall_ms, ledger.now.clock_ms, "stands")
    with pytest.raises(AssertionError, match="nobody noticed"):
        watcher.hold_now(ledger.wall_ms + 3600_000, ledger.now.clock_ms, "stands")
