"""The full screen while nothing can be saved: the engine goes off first, nothing is acknowledged, a copy works."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual import events

from triage.app.cases import read_cases
from triage.app.job import Job
from triage.app.reading import replay
from triage.cli.main import run
from triage.errors import EXIT_OK
from triage.knowledge.shipped import trees_folder
from triage.record.steps import Step
from triage.store import verify_trace
from triage.tui.answer_line import AnswerLine
from triage.tui.pages.reader import Reader
from triage.tui.session.session_screen import SessionScreen

SIZES = [(80, 24), (120, 40), (40, 12)]
MINUTES_MS = 60_000
TICKS_S = 1.2
"""Longer than two looks at the clock."""


def is_running_check(step: Step) -> bool:
    return step.kind == "check" and step.state == "running"


def in_a_run(bench: Any) -> Job:
    cases = read_cases(trees_folder() / "cases" / "shutdown-buzz.yaml", bench.knowledge)
    case = next(case for case in cases if case.id == "solid-buzz-nothing-found")
    job: Job = bench.lived(case, lambda step: step.kind == "run")
    return job


def at_the_running_engine(bench: Any) -> Job:
    job: Job = bench.lived_to(is_running_check, case="buzz-timed-only")
    return job


def words(bench: Any, pilot: Any) -> str:
    """What stands on the screen, without frames and folds."""
    drawn = dict.fromkeys(map(ord, "│║┃╔╗╚╝═╭╮╰╯─┏┓┗┛━▁▂▃▄▅▆▇█"), " ")
    return " ".join(bench.painted(pilot.app).translate(drawn).split())


async def opened(bench: Any, pilot: Any, job: Job) -> None:
    await bench.started(pilot)
    await bench.enter(pilot, job)


@pytest.mark.parametrize("size", SIZES)
async def test_time_is_up_on_a_full_disk_and_that_comes_first_on_the_screen(
    bench: Any, disk: Any, size: tuple[int, int]
) -> None:
    job = in_a_run(bench)
    async with bench.app().run_test(size=size) as pilot:
        await opened(bench, pilot, job)
        disk.full = True
        bench.clock.now_ms = job.state.step.until_ms - 2000
        await pilot.pause(TICKS_S)
        assert "TIME LEFT 0:0" in words(bench, pilot)
        bench.clock.now_ms = job.state.step.until_ms
        await bench.until_painted(pilot, "TIME IS UP")
        said = words(bench, pilot)
        assert said.index("TIME IS UP") < said.index("Switch off now") < said.index("NOT SAVED")
        assert '"copy"' in said
        assert "At any moment" not in said, "nothing else is to be read"


async def test_a_run_is_over_at_once_where_the_file_is_gone(bench: Any) -> None:
    job = in_a_run(bench)
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        next(bench.folder.glob("*.jsonl")).unlink()
        await bench.until_painted(pilot, "SWITCH OFF")
        said = words(bench, pilot)
        assert said.index("SWITCH OFF") < said.index("Nothing can be saved now") < said.index("deleted meanwhile")
        assert job.state.step.kind == "run-over"


@pytest.mark.parametrize("size", SIZES)
async def test_an_answer_that_cannot_be_saved_is_refused_and_the_running_check_disappears(
    bench: Any, disk: Any, size: tuple[int, int]
) -> None:
    job = at_the_running_engine(bench)
    step = job.state.step
    number = f"#{1}" if bench.knowledge.checks[step.check].reading else "1"
    async with bench.app().run_test(size=size) as pilot:
        await opened(bench, pilot, job)
        disk.full = True
        for key in ("pagedown",) * 9:
            pilot.app.post_message(events.Key(key, None))
        await bench.settle(pilot)
        await bench.type(pilot, number)
        said = words(bench, pilot)
        assert step.check not in job.state.findings
        assert job.state.step.kind == "switch-off"
        assert "NOT TAKEN" in said
        assert "SAVED ·" not in said
        assert said.index("SWITCH OFF") < said.index("Nothing can be saved now") < said.index("NOT SAVED")


async def test_a_page_does_not_cover_that_the_engine_is_to_be_switched_off(bench: Any, disk: Any) -> None:
    job = at_the_running_engine(bench)
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        disk.full = True
        pilot.app.post_message(events.Key("f5", None))
        await bench.settle(pilot)
        assert job.state.step.kind == "switch-off"
        assert isinstance(pilot.app.screen, SessionScreen)
        assert "SWITCH OFF" in words(bench, pilot)


async def test_a_confirmation_is_refused_and_not_acknowledged_but_a_no_counts(bench: Any, disk: Any) -> None:
    job = bench.lived_to(lambda step: step.kind == "confirm")
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        disk.full = True
        step = job.state.step
        await bench.type(pilot, "1")
        assert job.state.step == step
        assert "NOT TAKEN" in words(bench, pilot)
        await bench.type(pilot, "no 1")
        assert step.lines[0] in job.state.denied
        assert "TAKEN · Not saved yet" in words(bench, pilot)


async def test_what_is_typed_stays_and_pages_stay_open_while_nothing_can_be_saved(bench: Any, disk: Any) -> None:
    job = at_the_running_engine(bench)
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        disk.full = True
        bench.clock.now_ms += 16 * MINUTES_MS
        await bench.until_painted(pilot, "SWITCH OFF")
        for letter in "12":
            pilot.app.post_message(events.Key(letter, letter))
        await pilot.pause(TICKS_S)
        assert pilot.app.screen.query_one(AnswerLine).value == "12"
        pilot.app.screen.query_one(AnswerLine).clear()
        await bench.type(pilot, "why")
        await pilot.pause(TICKS_S)
        assert isinstance(pilot.app.screen, Reader)
        await bench.type(pilot, "")
        pilot.app.post_message(events.Key("f1", None))
        await pilot.pause(TICKS_S)
        assert isinstance(pilot.app.screen, Reader)


async def test_what_ended_is_in_the_file_before_anything_else_when_there_is_room_again(bench: Any, disk: Any) -> None:
    job = at_the_running_engine(bench)
    before = len(job.events)
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        disk.full = True
        bench.clock.now_ms += 16 * MINUTES_MS
        await bench.until_painted(pilot, "SWITCH OFF")
        await bench.type(pilot, "1")
        assert "TAKEN · Not saved yet" in words(bench, pilot)
        (path,) = bench.folder.glob("*.jsonl")
        assert len(replay(path).events) == before
        disk.full = False
        await bench.until_painted(pilot, "Everything is saved again.")
        assert "NOT SAVED:" not in words(bench, pilot).split("MAKE SAFE")[1]
        await bench.type(pilot, "note", "room again")
        kinds = [event.kind for event in replay(path).events[before:] if event.kind != "step-offered"]
        assert kinds == ["things-ended", "engine-off", "note-added"]


async def test_leave_says_what_is_not_saved_and_the_second_one_leaves(bench: Any, disk: Any) -> None:
    job = at_the_running_engine(bench)
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job), pilot.app.screen._left)
        await bench.settle(pilot)
        disk.full = True
        bench.clock.now_ms += 16 * MINUTES_MS
        await bench.until_painted(pilot, "SWITCH OFF")
        await bench.type(pilot, "leave")
        said = words(bench, pilot)
        assert "stands no more (the engine has run for long enough)" in said
        assert "Where is a copy to go?" in said
        await bench.type(pilot, "leave")
    assert "Left without a copy" in str(app.return_value)
    assert "stands no more (the engine has run for long enough)" in str(app.return_value)


async def test_a_place_typed_at_leave_takes_the_copy_and_says_where_it_is(
    bench: Any, tmp_path_factory: pytest.TempPathFactory
) -> None:
    job = at_the_running_engine(bench)
    other = tmp_path_factory.mktemp("stick")
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job), pilot.app.screen._left)
        await bench.settle(pilot)
        next(bench.folder.glob("*.jsonl")).unlink()
        await bench.until_painted(pilot, "SWITCH OFF")
        await bench.type(pilot, "leave", str(other))
    (copy,) = other.glob("*.jsonl")
    assert str(copy) in str(app.return_value)
    assert verify_trace(copy) == []
    assert replay(copy).events == job.events


async def test_the_key_that_stops_says_first_what_is_not_saved(bench: Any) -> None:
    job = at_the_running_engine(bench)
    app = bench.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        pilot.app.push_screen(SessionScreen(job), pilot.app.screen._left)
        await bench.settle(pilot)
        next(bench.folder.glob("*.jsonl")).unlink()
        await bench.until_painted(pilot, "SWITCH OFF")
        await bench.type(pilot, "why")
        await pilot.press("ctrl+q")
        await bench.settle(pilot)
        assert "Where is a copy to go?" in words(bench, pilot)
        await pilot.press("ctrl+q")
        await bench.settle(pilot)
        assert not pilot.app.is_running
    assert "Left without a copy" in str(app.return_value)


@pytest.mark.parametrize("place", [lambda folder: folder, lambda folder: folder / "mine.jsonl"], ids=["folder", "file"])
async def test_a_copy_takes_everything_and_the_session_goes_on_there(
    bench: Any, tmp_path_factory: pytest.TempPathFactory, place: Callable[[Path], Path]
) -> None:
    job = at_the_running_engine(bench)
    other = tmp_path_factory.mktemp("stick")
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await opened(bench, pilot, job)
        next(bench.folder.glob("*.jsonl")).unlink()
        await bench.until_painted(pilot, "SWITCH OFF")
        await bench.type(pilot, "1", "copy", str(place(other)))
        assert "the session goes on there" in words(bench, pilot)
        await bench.type(pilot, "note", "on the stick")
        assert "SAVED" in words(bench, pilot)
        assert job.trouble == ""
    (copy,) = other.glob("*.jsonl")
    assert run(["verify", str(copy)]) == EXIT_OK
    assert "note-added" in [event.kind for event in replay(copy).events][-2:]


@pytest.mark.parametrize("line", ["kept.jsonl", "no/\x00/name", "~nobodyhere/x"])
async def test_a_copy_that_cannot_be_written_says_so_and_asks_again(bench: Any, tmp_path: Path, line: str) -> None:
    kept = tmp_path / "kept.jsonl"
    job = bench.lived_to(lambda step: step.kind == "confirm")
    kept.write_text("kept", encoding="utf-8")
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        await bench.type(pilot, "copy")
        pilot.app.screen.post_message(
            AnswerLine.Given(str(kept) if line == "kept.jsonl" else line, read=True, at_s=float("inf"))
        )
        await bench.settle(pilot)
        assert "NOT TAKEN" in words(bench, pilot)
        assert "Where to?" in words(bench, pilot)
    assert kept.read_text(encoding="utf-8") == "kept"


async def test_a_copy_of_a_session_that_is_saved_leaves_it_where_it_is(
    bench: Any, tmp_path_factory: pytest.TempPathFactory
) -> None:
    job = bench.lived_to(lambda step: step.kind == "confirm")
    other = tmp_path_factory.mktemp("stick")
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await opened(bench, pilot, job)
        await bench.type(pilot, "copy", str(other))
        assert "goes on where it was" in words(bench, pilot)
        await bench.type(pilot, "note", "here")
    (path,) = bench.folder.glob("*.jsonl")
    assert [event.kind for event in replay(path).events][-1] == "note-added"
