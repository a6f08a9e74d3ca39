"""What a session does while its trace cannot be written: what ends something counts at once, nothing else is taken."""

import errno
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from triage.app.cases import Case, Recorded, read_cases
from triage.app.clocks import Steady
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import NotSaved, StoreUnavailable
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.session import commands as c
from triage.store import TraceWriter, verify_trace
from triage.store import disk as disks
from triage.store import writer as writing

SECOND_MS = 1000


class Bay:
    """A session on disk with clocks that are moved by hand, and a disk that can be full."""

    def __init__(self, knowledge: Knowledge, case: Case, folder: Path) -> None:
        self.now_ms, self.moved_ms = 1_700_000_000_000, 0
        self.knowledge, self.case = knowledge, case
        self.path = folder / "job.jsonl"
        opening = Opening(case.symptom, "job", "case")
        used = accuracies(knowledge, Shop())
        writer = TraceWriter.create(folder, "job")
        steady = Steady(lambda: self.now_ms - self.moved_ms, counts_sleep=True)
        self.job: Job = start(knowledge, opening, used, "", lambda: self.now_ms, writer, steady=steady)

    def until(self, there: Callable[[Any], bool]) -> "Bay":
        """Answer as the case does until a step is on screen."""
        for _ in range(2000):
            if there(self.job.state.step):
                return self
            self.now_ms += 10
            command = Recorded(self.case).answer(self.knowledge, self.job.state, self.now_ms)
            assert command is not None
            self.now_ms = max(self.now_ms, command.at_ms)
            self.job.do(command)
        raise AssertionError("never came there")

    def wait(self, seconds: float) -> str:
        """Let time pass in half seconds, as a face does; the step that is on screen then."""
        for _ in range(round(2 * seconds)):
            self.now_ms += 500
            self.job.tick()
        return self.job.state.step.kind

    def base(self) -> dict[str, Any]:
        return {"at_ms": self.now_ms, "who": "case"}

    def kinds(self) -> list[str]:
        """The kinds of event on the disk."""
        return [event.kind for event in replay(self.path).events]


@pytest.fixture
def full(monkeypatch: pytest.MonkeyPatch) -> Callable[[bool], None]:
    """A disk that is full, or has room again."""
    state = {"full": False}
    real = disks.write_all

    def write_all(handle: int, content: bytes) -> None:
        if state["full"]:
            raise OSError(errno.ENOSPC, "full")
        real(handle, content)

    monkeypatch.setattr(writing, "write_all", write_all)

    def turn(full: bool) -> None:
        state["full"] = full

    return turn


def is_running_check(step: Any) -> bool:
    return bool(step.kind in ("check", "round") and step.state == "running")


@pytest.fixture
def bay(knowledge: Knowledge, tmp_path: Path) -> Bay:
    cases = read_cases(trees_folder() / "cases" / "bearing-rumble.yaml", knowledge)
    case = next(case for case in cases if case.id == "rumble-water-pump-heard-only")
    return Bay(knowledge, case, tmp_path)


@pytest.fixture
def running(bay: Bay) -> Bay:
    """Beside the running engine."""
    return bay.until(is_running_check)


@pytest.fixture
def run(knowledge: Knowledge, tmp_path: Path) -> Bay:
    """In a run without the belt."""
    for path in sorted((trees_folder() / "cases").glob("*.yaml")):
        for case in read_cases(path, knowledge):
            if "belt-off-run" in case.findings:
                try:
                    return Bay(knowledge, case, tmp_path / case.id).until(lambda step: step.kind == "run")
                except AssertionError:
                    continue
    raise AssertionError("no case runs the engine without its belt")


def test_time_is_up_although_the_disk_is_full(run: Bay, full: Callable[[bool], None]) -> None:
    full(True)
    assert run.wait(29) == "run"
    assert run.wait(1.5) == "run-over"
    assert "disk is full" in run.job.trouble
    assert run.job.unsaved


def test_time_is_up_although_the_file_is_gone(run: Bay) -> None:
    run.path.unlink()
    assert run.wait(1) == "run-over", "what happens in the run could not be written down"
    assert "deleted" in run.job.trouble


def test_a_running_step_does_not_outlive_its_confirmations_on_a_full_disk(
    running: Bay, full: Callable[[bool], None]
) -> None:
    full(True)
    assert running.wait(15 * 60 + 1) == "switch-off"


def test_an_answer_that_cannot_be_saved_is_not_taken_and_stops_the_engine(
    running: Bay, full: Callable[[bool], None]
) -> None:
    check = running.job.state.step.check
    full(True)
    command = Recorded(running.case).answer(running.knowledge, running.job.state, running.now_ms)
    assert command is not None
    with pytest.raises(NotSaved, match="full"):
        running.job.do(command)
    assert check not in running.job.state.findings
    assert running.job.state.step.kind == "switch-off"


def test_a_file_that_is_gone_is_noticed_beside_a_running_engine_before_anything_is_answered(running: Bay) -> None:
    running.path.unlink()
    assert running.wait(1) == "switch-off"
    assert running.job.trouble


def test_nothing_but_what_ends_something_is_taken_while_nothing_can_be_saved(
    running: Bay, full: Callable[[bool], None]
) -> None:
    full(True)
    running.wait(15 * 60 + 1)
    running.job.do(c.EndRun(**running.base()))
    step = running.job.state.step
    assert step.kind == "confirm", "the engine is off, and that counts"
    with pytest.raises(NotSaved):
        running.job.do(c.Confirm(**running.base(), confirmation=step.lines[0], name="clear"))
    assert "at-the-key" not in running.job.state.standing
    running.job.do(c.RefuseConfirmation(**running.base(), confirmation=step.lines[0]))
    assert running.job.state.denied
    with pytest.raises(NotSaved):
        running.job.do(c.Note(**running.base(), text="something"))
    running.job.do(c.Pause(**running.base()))
    assert running.job.state.paused


def test_what_was_ended_is_written_first_when_there_is_room_again(running: Bay, full: Callable[[bool], None]) -> None:
    before = running.kinds()
    full(True)
    running.wait(15 * 60 + 1)
    running.job.do(c.EndRun(**running.base()))
    assert running.kinds() == before
    full(False)
    running.job.do(c.Note(**running.base(), text="room again"))
    assert running.job.trouble == ""
    assert not running.job.unsaved
    new = [kind for kind in running.kinds()[len(before) :] if kind != "step-offered"]
    assert new == ["things-ended", "engine-off", "note-added"]
    assert replay(running.path).events == running.job.events


def test_time_alone_writes_what_waits(running: Bay, full: Callable[[bool], None]) -> None:
    full(True)
    running.wait(15 * 60 + 1)
    full(False)
    running.wait(1)
    assert running.job.trouble == ""
    assert running.kinds()[-2:] == ["things-ended", "step-offered"]


def test_what_happens_in_the_moment_in_which_saving_works_again_is_saved_behind_what_waits(
    running: Bay, full: Callable[[bool], None]
) -> None:
    full(True)
    running.wait(15 * 60 + 1)
    full(False)
    running.moved_ms = 5 * SECOND_MS
    running.now_ms += running.moved_ms
    running.job.tick()
    assert "clock-shifted" in running.kinds()
    assert replay(running.path).events == running.job.events


def test_everything_can_be_saved_elsewhere_and_the_session_goes_on_there(running: Bay, tmp_path: Path) -> None:
    running.path.unlink()
    running.wait(1)
    running.job.do(c.EndRun(**running.base()))
    other = tmp_path / "stick" / "copy.jsonl"
    running.job.copy_to(other)
    assert running.job.trouble == ""
    running.job.do(c.Note(**running.base(), text="here now"))
    running.job.leave()
    assert verify_trace(other) == []
    assert replay(other).events == running.job.events


def test_a_copy_replaces_nothing(running: Bay, tmp_path: Path) -> None:
    other = tmp_path / "copy.jsonl"
    other.write_text("kept")
    with pytest.raises(StoreUnavailable):
        running.job.copy_to(other)
    assert other.read_text() == "kept"


def test_a_copy_of_a_session_that_is_saved_leaves_it_where_it_is(running: Bay, tmp_path: Path) -> None:
    other = tmp_path / "copy.jsonl"
    running.job.copy_to(other)
    running.job.do(c.Note(**running.base(), text="still here"))
    assert running.kinds()[-1] == "note-added"
    assert [event.kind for event in replay(other).events] == running.kinds()[:-1]


def test_leaving_always_works(running: Bay, full: Callable[[bool], None]) -> None:
    full(True)
    running.wait(15 * 60 + 1)
    running.job.leave()
