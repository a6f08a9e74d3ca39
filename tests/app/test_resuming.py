"""Whoever takes a session up confirms everything, under this program's interlocks, whatever its trace says."""

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.bench.whole_lines import whole_lines
from triage.app.reading import replay
from triage.app.resuming import resume
from triage.errors import CommandRefused, TraceDamaged, TraceUnsafe
from triage.knowledge.loading import load_interlocks
from triage.knowledge.shipped import demos_folder, trees_folder
from triage.record import events as e
from triage.session import commands as c
from triage.store import Line
from triage.store.lines import encode

OLD = Path(__file__).parent / "traces" / "format-1-worn-bearing.jsonl"
TODAY = demos_folder() / "worn-bearing.jsonl"
RUNNING = ("running", "running-belt-off")


def sealed(path: Path, lines: Iterable[Line]) -> Path:
    """Write lines with numbers and digests that fit."""
    digest = ""
    with path.open("wb") as file:
        for number, line in enumerate(lines, 1):
            raw, digest = encode(replace(line, seq=number), digest)
            file.write(raw)
    return path


def until_running(source: Path) -> list[Line]:
    """The lines of a trace up to its first running check."""
    lines: list[Line] = []
    for line in whole_lines(source):
        lines.append(line)
        step: Any = line.data.get("step")
        if line.kind == "step-offered" and step["kind"] == "check" and step["state"] in RUNNING:
            return lines
    raise AssertionError("it never runs the engine")


def pause(lines: list[Line]) -> Line:
    stamp = {key: lines[-1].data[key] for key in ("clock_ms", "boot") if key in lines[-1].data}
    return replace(lines[-1], kind="session-paused", data=stamp)


def taken_up(path: Path) -> Any:
    """The session with somebody at the vehicle again."""
    job, _ = resume(path, lambda: 2_000_000_000_000, "")
    job.do(c.Resume(at_ms=2_000_000_000_000, who="Bo"))
    return job


@pytest.mark.parametrize("source", [OLD, TODAY])
def test_a_session_that_was_left_beside_the_running_engine_is_asked_to_switch_it_off(
    tmp_path: Path, source: Path
) -> None:
    job = taken_up(sealed(tmp_path / "cut.jsonl", until_running(source)))
    assert not job.state.standing
    assert job.state.step.kind == "switch-off"
    job.do(c.EndRun(at_ms=2_000_000_001_000, who="Bo"))
    assert job.state.step.kind == "confirm"
    job.leave()


@pytest.mark.parametrize("source", [OLD, TODAY])
def test_a_pause_that_somebody_wrote_into_the_trace_keeps_no_confirmation(tmp_path: Path, source: Path) -> None:
    lines = until_running(source)
    try:
        job = taken_up(sealed(tmp_path / "edited.jsonl", [*lines, pause(lines)]))
    except TraceUnsafe:
        return
    assert job.state.step.kind == "switch-off"
    job.leave()


@pytest.mark.parametrize("source", [OLD, TODAY])
def test_a_state_that_was_entered_without_any_confirmation_is_asked_for_anew(tmp_path: Path, source: Path) -> None:
    lines = [line for line in until_running(source) if line.kind != "thing-confirmed"]
    try:
        job = taken_up(sealed(tmp_path / "edited.jsonl", [*lines, pause(lines)]))
    except TraceUnsafe:
        return
    assert job.state.step.kind == "switch-off"
    job.leave()


def test_knowledge_that_asks_for_nothing_is_worked_on_under_the_installed_interlocks(tmp_path: Path) -> None:
    first, *rest = until_running(TODAY)
    knowledge: Any = dict(first.data)["knowledge"]
    states = {one: {**state, "confirmations": []} for one, state in knowledge["states"].items()}
    weak = replace(first, data={**first.data, "knowledge": {**knowledge, "states": states}})
    kept = [line for line in rest if line.kind != "thing-confirmed"]
    try:
        job = taken_up(sealed(tmp_path / "weak.jsonl", [weak, *kept, pause(kept)]))
    except TraceUnsafe:
        return
    job.do(c.EndRun(at_ms=2_000_000_001_000, who="Bo"))
    assert job.state.step.kind == "confirm"
    installed = load_interlocks(trees_folder())
    assert job.knowledge.states["running"] == installed.states["running"]
    assert any(isinstance(event, e.RulesInstalled) for event in job.events)
    job.leave()
    assert replay(tmp_path / "weak.jsonl").knowledge.states["running"] == installed.states["running"]


def test_an_old_session_goes_on_under_the_rules_of_today_and_says_so(tmp_path: Path) -> None:
    job = taken_up(sealed(tmp_path / "old.jsonl", until_running(OLD)))
    assert [event.rules for event in job.events if isinstance(event, e.RulesInstalled)] == [3]
    assert job.state.boot == 1
    job.leave()
    again = taken_up(tmp_path / "old.jsonl")
    assert again.state.boot == 2
    assert len([event for event in again.events if isinstance(event, e.RulesInstalled)]) == 1, "once is enough"
    again.leave()


def test_a_check_that_is_declared_for_a_standing_engine_can_be_read_and_not_gone_on_with(tmp_path: Path) -> None:
    first, *rest = until_running(TODAY)
    knowledge: Any = dict(first.data)["knowledge"]
    checks = {one: {**check, "state": "stopped", "set_up": None} for one, check in knowledge["checks"].items()}
    weak = replace(first, data={**first.data, "knowledge": {**knowledge, "checks": checks}})
    path = sealed(tmp_path / "weak.jsonl", [weak, *rest])
    with pytest.raises(TraceUnsafe, match="engine running"):
        resume(path, lambda: 2_000_000_000_000, "Bo")
    assert replay(path).events, "it can still be read"


def test_knowledge_that_does_not_hold_together_is_named_and_nobody_goes_on_with_it(tmp_path: Path) -> None:
    first, *rest = until_running(TODAY)
    knowledge: Any = dict(first.data)["knowledge"]
    symptom = dict(first.data)["symptom"]
    tree = knowledge["trees"][symptom]
    led_astray = {**tree, "start": "nowhere"}
    torn = replace(first, data={**first.data, "knowledge": {**knowledge, "trees": {symptom: led_astray}}})
    path = sealed(tmp_path / "torn.jsonl", [torn, *rest])
    with pytest.raises(TraceDamaged, match="does not hold together"):
        resume(path, lambda: 2_000_000_000_000, "Bo")


def test_nothing_is_answered_in_a_session_that_nobody_has_taken_up(tmp_path: Path) -> None:
    job, _ = resume(sealed(tmp_path / "cut.jsonl", until_running(TODAY)), lambda: 2_000_000_000_000, "")
    with pytest.raises(CommandRefused, match="paused"):
        job.do(c.StartRun(at_ms=2_000_000_000_000, who="Bo"))
    job.leave()
