"""The plain chat while nothing can be saved: the engine goes off first, and why is said once."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from triage.app.cases import Case, Recorded, read_cases
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.shop.shop_file import Shop, accuracies
from triage.chat.talk import Talk
from triage.errors import TooManyAtOnceError
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.events import ThingRefused
from triage.record.steps import Step
from triage.store import TraceWriter, verify_trace

MINUTE_MS = 60_000


class Bay:
    """A session on disk, with a clock that is moved by hand."""

    def __init__(self, knowledge: Knowledge, folder: Path, case: str = "") -> None:
        self.now_ms = 1_700_000_000_000
        self.folder = folder
        self._knowledge = knowledge
        symptom = "shutdown-buzz" if case else "bearing-rumble"
        cases = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)
        self._case: Case = next(one for one in cases if one.id == (case or "rumble-water-pump-heard-only"))
        writer = TraceWriter.create(folder, "job")
        opening = Opening(symptom, "j", "case")
        self.job: Job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: self.now_ms, writer)

    @property
    def path(self) -> Path:
        return self.folder / "job.jsonl"

    def until(self, there: Callable[[Step], bool]) -> "Bay":
        for _ in range(2000):
            if there(self.job.state.step):
                return self
            self.now_ms += 10
            command = Recorded(self._case).answer(self._knowledge, self.job.state, self.now_ms)
            assert command is not None
            self.now_ms = max(self.now_ms, command.at_ms)
            self.job.do(command)
        raise AssertionError("never came there")


def is_running_check(step: Step) -> bool:
    return step.kind in ("check", "round") and step.state == "running"


@pytest.fixture
def running(knowledge: Knowledge, tmp_path: Path) -> Bay:
    return Bay(knowledge, tmp_path).until(is_running_check)


class Hands:
    """Lines that are typed, or time that passes: a number stands for looks at the clock, half a second each."""

    ahead = False

    def __init__(self, bay: Bay, *typed: str | int | Callable[[], object]) -> None:
        self._bay = bay
        self._typed: Iterator[Any] = iter(typed)
        self.said: list[str] = []

    def read(self, _prompt: str, waiting: Callable[[], bool]) -> str | None:
        from triage.chat.lines import InputEndedError

        for one in self._typed:
            if callable(one):
                one()
            elif isinstance(one, str):
                return one
            else:
                for _ in range(one):
                    self._bay.now_ms += 500
                    if waiting():
                        return None
        raise InputEndedError

    def say(self, text: str) -> None:
        self.said.append(text)

    @property
    def all(self) -> str:
        return " ".join(" ".join(self.said).split())


def talk(bay: Bay, *typed: str | int | Callable[[], object]) -> Hands:
    hands = Hands(bay, *typed)
    Talk(bay.job, hands, lambda: 0.0).run()
    return hands


def filled(disk: Any, full: bool = True) -> Callable[[], None]:
    return lambda: setattr(disk, "full", full)


def test_time_is_up_on_time_although_the_disk_is_full(knowledge: Knowledge, tmp_path: Path, disk: Any) -> None:
    bay = Bay(knowledge, tmp_path, "solid-buzz-nothing-found").until(lambda step: step.kind == "run")
    begins_ms = bay.now_ms
    said = talk(bay, filled(disk), 80).all
    assert "1 s left" in said
    assert bay.job.state.step.kind == "run-over"
    ended = next(event for event in reversed(bay.job.events) if event.kind == "run-ended")
    assert 30_000 <= ended.at_ms - begins_ms <= 30_500
    assert said.index("TIME IS UP") < said.index("Switch off now") < said.index("NOT SAVED:")
    assert said.count("NOT SAVED:") == 1, "said once, not twice a second"


def test_a_run_is_over_at_once_where_the_file_is_gone(knowledge: Knowledge, tmp_path: Path) -> None:
    bay = Bay(knowledge, tmp_path, "solid-buzz-nothing-found").until(lambda step: step.kind == "run")
    said = talk(bay, bay.path.unlink, 80).all
    assert bay.job.state.step.kind == "run-over"
    assert said.index("SWITCH OFF") < said.index("Nothing can be saved now") < said.index("NOT SAVED:")
    assert said.count("NOT SAVED:") == 1


def test_an_answer_that_cannot_be_saved_is_refused_behind_the_step_that_says_switch_off(
    running: Bay, disk: Any
) -> None:
    check = running.job.state.step.check
    typed = ("1", "1") if running.job.state.step.kind == "round" else ("1",)
    said = talk(running, filled(disk), *typed, 20).all
    assert check not in running.job.state.findings
    assert running.job.state.step.kind == "switch-off"
    assert said.index("SWITCH OFF") < said.index("only what ends something is taken") < said.index("NOT SAVED:")
    assert said.count("NOT SAVED:") == 1


def test_it_is_said_again_when_something_typed_is_refused(running: Bay, disk: Any) -> None:
    hands = talk(running, filled(disk), 16 * 120, 20, "note", "anything", 20, "why", 20)
    assert hands.all.count("NOT SAVED:") == 2
    assert hands.all.count("only what ends something is taken") == 1


def test_a_confirmation_is_refused_and_a_no_counts(running: Bay, disk: Any) -> None:
    hands = talk(running, filled(disk), 16 * 120, "1", "1", "clear", "no 1")
    refused = [event for event in running.job.events if isinstance(event, ThingRefused)]
    assert len(refused) == 1
    assert running.job.state.denied == frozenset(refused[0].lines)
    assert "at-the-key" not in running.job.state.standing
    assert hands.all.count("Not saved yet: it is written first") == 2, "the engine that is off, and the no"


def test_what_ended_is_in_the_file_before_anything_else_when_there_is_room_again(running: Bay, disk: Any) -> None:
    before = len(running.job.events)
    hands = talk(running, filled(disk), 16 * 120, "1", filled(disk, full=False), 4, "note", "room again")
    assert "Everything is saved again." in hands.all
    kinds = [event.kind for event in replay(running.path).events[before:] if event.kind != "step-offered"]
    assert kinds == ["things-ended", "engine-off", "note-added"]


def test_leave_says_what_is_not_saved_and_the_second_one_leaves(running: Bay, disk: Any) -> None:
    hands = talk(running, filled(disk), 16 * 120, "leave", "leave", "1")
    assert "Not saved: stands no more (the engine has run for long enough)" in hands.all
    assert "Where is a copy to go?" in hands.all
    assert "Left without a copy." in hands.all
    assert "The session is kept" not in hands.all
    assert running.job.state.step.kind == "switch-off", "nothing was read behind the second one"


def test_an_end_of_the_input_does_not_say_that_all_is_kept(running: Bay, disk: Any) -> None:
    hands = talk(running, filled(disk), 16 * 120)
    assert "The input has ended. Left without a copy." in hands.all


@pytest.mark.parametrize("word", ["copy", "leave"])
def test_a_copy_takes_everything_and_verifies(
    running: Bay, tmp_path_factory: pytest.TempPathFactory, word: str
) -> None:
    other = tmp_path_factory.mktemp("stick")
    hands = talk(running, running.path.unlink, 2, word, str(other), "1")
    copy = other / "job.jsonl"
    assert verify_trace(copy) == []
    assert replay(copy).events == running.job.events
    assert running.job.state.step.kind == ("switch-off" if word == "leave" else "confirm")
    assert f"triageresume{copy}" in "".join(hands.all.split())


def test_leave_is_taken_although_the_step_has_just_changed(running: Bay) -> None:
    def late() -> None:
        running.now_ms += 16 * MINUTE_MS

    hands = talk(running, late, "leave", "1")
    assert "The session is kept" in hands.all
    assert running.job.state.step.kind == "switch-off"


def test_what_cannot_be_weighed_is_said_and_the_answer_is_kept(
    knowledge: Knowledge, tmp_path: Path, typist: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def too_many(*_: object) -> None:
        raise TooManyAtOnceError("40 abnormal results hang together.", "They are kept.")

    monkeypatch.setattr("triage.reasoning.inference.making.joint", too_many)
    bay = Bay(knowledge, tmp_path).until(lambda step: step.kind == "check" and step.state == "stopped")
    before, terminal = len(bay.job.state.findings), typist("1", "likely", "leave")
    Talk(bay.job, terminal, lambda: 0.0).run()
    assert len(bay.job.state.findings) == before + 1
    assert "40 abnormal results hang together. They are kept." in " ".join(" ".join(terminal.said).split())
