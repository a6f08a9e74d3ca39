"""Recorded traces of every format version. They are never edited: what was saved once stays readable."""

from pathlib import Path
from shutil import copytree

import pytest

from tests.bench.whole_lines import whole_lines
from triage.app.reading import replay
from triage.app.respondent import Respondent
from triage.app.resuming import resume
from triage.present.pages.session_page import page_of
from triage.record.events import RulesInstalled
from triage.session import commands as c
from triage.session import interlocks
from triage.session.audit import objections
from triage.session.evolving import fold
from triage.store import verify_trace

TRACES = Path(__file__).parent / "traces"
AT_THE_VEHICLE = ("check", "set-up", "run-ready", "part", "torque")
MINUTE_MS = 60_000

HEADS = {
    "format-1-worn-bearing": "248-49e6db16b193",
    "format-1-binding-clutch": "349-46b45854c9f5",
    "format-2-worn-bearing": "290-b457f3c5696a",
    "format-2-binding-clutch": "484-5c69523b15b6",
}


@pytest.mark.parametrize("name", HEADS)
def test_a_trace_of_an_older_format_is_read_and_shown(name: str) -> None:
    path = TRACES / f"{name}.jsonl"
    assert verify_trace(path) == []
    knowledge, events, head, _ = replay(path)
    assert str(head) == HEADS[name]
    assert fold(events).closed == "signed-off"
    assert "signed-off" in page_of(knowledge, events, str(head))


def steps_of(name: str) -> dict[tuple[str, str], int]:
    """Each kind of step with its vehicle state, and how many lines there are until it is first asked."""
    lines = whole_lines(TRACES / f"{name}.jsonl")
    offered = ((line.data["step"], line.seq) for line in lines if line.kind == "step-offered")
    found: dict[tuple[str, str], int] = {}
    for step, seq in offered:
        assert isinstance(step, dict)
        if step["kind"] != "closed":
            found.setdefault((step["kind"], step.get("state", "")), seq)
    return found


def every_step() -> list[tuple[str, int]]:
    return [(name, seq) for name in HEADS for seq in steps_of(name).values()]


class Vehicle:
    """A session that was left, taken up by somebody who does what is asked."""

    def __init__(self, path: Path) -> None:
        self.now_ms = 2_000_000_000_000
        self.job = resume(path, lambda: self.now_ms, Respondent.who)[0]
        if self.job.state.paused:
            self.job.do(c.Resume(at_ms=self.now_ms, who=Respondent.who))

    def go_on(self, steps: int) -> list[str]:
        """Answer so many steps; the lines that were pressed before the first one at the vehicle."""
        pressed: list[str] = []
        for _ in range(steps):
            self.now_ms += MINUTE_MS // 4
            state = self.job.state
            if state.step.kind in AT_THE_VEHICLE and state.step.state in self.job.knowledge.states:
                self._expect_all(state.step.state)
            command = Respondent().answer(self.job.knowledge, state, self.now_ms)
            if command is None:
                break
            if isinstance(command, c.Confirm) and not state.inside:
                pressed.append(command.confirmation)
            self.now_ms = command.at_ms
            self.job.do(command)
        return pressed

    def _expect_all(self, place: str) -> None:
        knowledge, state = self.job.knowledge, self.job.state
        check = knowledge.checks.get(state.step.check) if state.step.kind == "check" else None
        assert not interlocks.lacking(knowledge, state, knowledge.states[place], check)
        assert state.inside == place


def cut(name: str, seq: int, folder: Path) -> Path:
    """A trace of which nothing was written any more behind a line."""
    copytree(TRACES / "knowledge", folder / "knowledge")
    raw = (TRACES / f"{name}.jsonl").read_bytes().splitlines(keepends=True)
    path = folder / "cut.jsonl"
    path.write_bytes(b"".join(raw[:seq]))
    return path


@pytest.mark.parametrize(("name", "seq"), every_step())
def test_an_older_session_that_was_left_anywhere_goes_on_under_the_rules_of_today(
    name: str, seq: int, tmp_path: Path
) -> None:
    vehicle = Vehicle(cut(name, seq, tmp_path))
    job = vehicle.job
    assert [event.rules for event in job.events if isinstance(event, RulesInstalled)] == [3]
    assert not job.state.standing
    ran = job.state.condition.engine == "running"
    assert not ran or job.state.step.kind == "switch-off"
    pressed = vehicle.go_on(90)
    assert not next(objections(job.events), None)
    if set(pressed) - {"nothing-left"}:
        # Nobody knows how far the vehicle was taken apart meanwhile.
        assert {"cannot-roll", "people"} <= set(pressed)
    job.leave()
    assert not next(objections(replay(tmp_path / "cut.jsonl").events), None)
