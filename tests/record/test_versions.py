"""What was stored outlives the shapes of the program: renamed, dropped and added keys, kinds that nobody knows."""

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.bench.whole_lines import whole_lines
from triage.app.reading import replay
from triage.app.resuming import resume
from triage.app.tracing import read_events
from triage.errors import DocumentFaulty, TraceUnsafe
from triage.knowledge import models
from triage.knowledge.shipped import demos_folder
from triage.record import versions
from triage.record.events import KINDS, NoteAdded, NotUnderstood
from triage.record.versions import UPCASTERS, understand
from triage.session.commands import Stamp
from triage.store import Line
from triage.store.lines import encode

OLD = Path(__file__).parents[1] / "app" / "traces" / "format-1-worn-bearing.jsonl"
DEMO = demos_folder() / "worn-bearing.jsonl"
STAMP: Stamp = {"at_ms": 5, "who": "Ann", "clock_ms": 3, "boot": 1}


def sealed(path: Path, lines: list[Line]) -> Path:
    digest = ""
    with path.open("wb") as file:
        for number, line in enumerate(lines, 1):
            raw, digest = encode(replace(line, seq=number), digest)
            file.write(raw)
    return path


@pytest.fixture
def lines() -> list[Line]:
    """A trace as it stood at its first pause of breath, open."""
    return list(whole_lines(DEMO)[:40])


def with_knowledge(lines: list[Line], change: Callable[[dict[str, Any]], None]) -> list[Line]:
    first = json.loads(json.dumps(dict(lines[0].data)))
    change(first["knowledge"])
    return [replace(lines[0], data=first), *lines[1:]]


def test_every_kind_of_every_version_can_be_lifted() -> None:
    assert {(kind, number) for kind, event in KINDS.items() for number in range(1, event.version)} == set(UPCASTERS)


@pytest.mark.parametrize("trace", [OLD, DEMO])
def test_traces_of_every_version_are_understood_whole(trace: Path) -> None:
    read = read_events(whole_lines(trace))
    assert read.notices == ()
    assert not any(isinstance(event, NotUnderstood) for event in read.events)


def test_an_event_of_the_first_version_has_the_wall_clock_for_both() -> None:
    found = understand("note-added", 1, {"at_ms": 5, "who": "Ann", "text": "hm"}, name="line 1")
    assert found.event == NoteAdded(at_ms=5, who="Ann", clock_ms=5, boot=0, text="hm")


def test_a_key_that_a_newer_program_added_to_an_event_is_named_and_left_out() -> None:
    found = understand("note-added", 2, {**STAMP, "text": "hm", "mood": "good"}, name="line 1")
    assert found.strangers == ("mood",)
    assert found.event == NoteAdded(**STAMP, text="hm")


def test_a_key_that_is_missing_is_a_fault() -> None:
    with pytest.raises(DocumentFaulty, match="text"):
        understand("note-added", 2, {**STAMP}, name="line 1")


def test_a_key_that_was_added_to_the_knowledge_is_named_and_the_session_goes_on(
    tmp_path: Path, lines: list[Line]
) -> None:
    def add(knowledge: dict[str, Any]) -> None:
        knowledge["checks"]["belt-condition"]["colour"] = "black"
        knowledge["weather"] = {"today": "rain"}

    path = sealed(tmp_path / "newer.jsonl", with_knowledge(lines, add))
    job, notices = resume(path, lambda: 2_000_000_000_000, "Bo")
    job.leave()
    assert any("knowledge.checks.belt-condition.colour, knowledge.weather" in notice for notice in notices)
    assert any("knowledge.weather" in notice for notice in replay(path).notices)


def test_a_key_that_was_dropped_from_the_knowledge_makes_no_saved_session_unreadable(
    tmp_path: Path, lines: list[Line]
) -> None:
    def drop(knowledge: dict[str, Any]) -> None:
        for check in knowledge["checks"].values():
            check.pop("once", None)

    path = sealed(tmp_path / "older.jsonl", with_knowledge(lines, drop))
    job, notices = resume(path, lambda: 2_000_000_000_000, "Bo")
    job.leave()
    assert notices == ()
    assert job.knowledge.checks["belt-condition"].once is False


@pytest.fixture
def renamed(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A program in which a check's minutes had another name before."""
    monkeypatch.setattr(versions, "RENAMED", {models.Check.__name__: {"duration": "minutes"}})
    return iter(())


@pytest.mark.usefixtures("renamed")
def test_a_key_that_was_renamed_is_read_under_its_new_name(tmp_path: Path, lines: list[Line]) -> None:
    def rename(knowledge: dict[str, Any]) -> None:
        for check in knowledge["checks"].values():
            check["duration"] = check.pop("minutes")

    path = sealed(tmp_path / "older.jsonl", with_knowledge(lines, rename))
    assert replay(path).knowledge == replay(sealed(tmp_path / "today.jsonl", lines)).knowledge
    assert replay(path).notices == ()


@pytest.mark.parametrize(("kind", "version"), [("tea-made", 1), ("note-added", 99)])
def test_what_a_newer_program_wrote_can_be_read_and_not_gone_on_with(
    tmp_path: Path, lines: list[Line], kind: str, version: int
) -> None:
    data = {"clock_ms": lines[-1].data["clock_ms"], "boot": 1, "sugar": 2}
    path = sealed(tmp_path / "newer.jsonl", [*lines, replace(lines[-1], kind=kind, version=version, data=data)])
    read = replay(path)
    assert isinstance(read.events[-1], NotUnderstood)
    assert f'Line 41 holds "{kind}" in version {version}, which this program does not know.' in read.notices
    with pytest.raises(TraceUnsafe, match=f'line 41 holds "{kind}"'):
        resume(path, lambda: 2_000_000_000_000, "Bo")


def test_what_a_step_does_not_say_is_not_written(lines: list[Line], knowledge: models.Knowledge) -> None:
    assert knowledge
    steps: list[Any] = [line.data["step"] for line in lines if line.kind == "step-offered"]
    assert {"kind": "fact", "fact": "odometer"} in steps
