"""The plain chat on a real pseudo-terminal and through a pipe: what was typed before a confirmation was shown."""

import subprocess
import sys
import time
from itertools import count
from pathlib import Path

import pytest

from triage.app.cases import Case, Recorded
from triage.app.job import start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.record.events import NoteAdded, ThingConfirmed
from triage.store import TraceWriter

pytest.importorskip("pty")
from tests.bench.pseudo_terminal import Terminal

RESUME = [sys.executable, "-m", "triage", "resume"]
QUIET = {"PROMPT_TOOLKIT_NO_CPR": "1"}
LEAPING = """
import sys, time
from pathlib import Path
from triage.cli import chat
leap = Path(sys.argv.pop())
chat.now_ms = lambda: time.time_ns() // 1_000_000 + int(leap.read_text())
from triage.cli.main import run
sys.exit(run())
"""
"""The program with a clock that can be moved from outside."""
LOOK_S = 1.0
"""How long a person looks at a confirmation; a busy machine paints late."""


@pytest.fixture
def saved(knowledge: Knowledge, tmp_path: Path) -> Path:
    """A session that was left at its first interlock."""
    times = count(1_000_000_000_000, 1000)
    opening = Opening(symptom="shutdown-buzz", job="j", who="Ada")
    writer = TraceWriter.create(tmp_path, "job")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), writer)
    while job.state.step.kind != "confirm":
        command = Recorded(Case(id="x", symptom="shutdown-buzz")).answer(knowledge, job.state, job.clock())
        assert command
        job.do(command)
    job.leave()
    return next(tmp_path.glob("*.jsonl"))


def confirmed(trace: Path) -> int:
    return sum(isinstance(event, ThingConfirmed) for event in replay(trace).events)


@pytest.mark.parametrize("term", ["xterm-256color", "dumb"])
def test_a_confirmation_typed_ahead_is_dropped_and_one_that_was_read_is_taken(saved: Path, term: str) -> None:
    with Terminal(RESUME, saved.parent, term=term, changes=QUIET) as terminal:
        terminal.wait_for("Who is at the vehicle")
        terminal.write(b"Ada\n1\n2\n3\nnote\nseen\n")
        terminal.wait_for("Written down")
        assert terminal.read(0.0).count("typed before") == 3
        assert confirmed(saved) == 0
        for given in (1, 2):
            time.sleep(LOOK_S)
            terminal.write(f"{given}\n".encode())
            terminal.wait_for("Confirmed: ")
            assert confirmed(saved) == given
        terminal.write(b"leave\n")
        terminal.wait_for("The session is kept")
        assert terminal.wait_for_end() == 0
    assert [event.text for event in replay(saved).events if isinstance(event, NoteAdded)] == ["seen"]


@pytest.mark.parametrize("term", ["xterm-256color", "dumb"])
def test_a_yes_half_typed_confirms_nothing_after_time_has_changed_the_step(
    saved: Path, tmp_path_factory: pytest.TempPathFactory, term: str
) -> None:
    leap = tmp_path_factory.mktemp("leap") / "leap"
    leap.write_text("0")
    words = [sys.executable, "-c", LEAPING, "resume", str(leap)]
    with Terminal(words, saved.parent, term=term, changes=QUIET) as terminal:
        terminal.wait_for("Who is at the vehicle")
        terminal.write(b"Ada\n")
        terminal.wait_for("MAKE SAFE")
        for number in range(1, 5):
            time.sleep(LOOK_S)
            terminal.write(f"{number}\n".encode())
            terminal.wait_for("Confirmed: ")
        terminal.wait_for("MAKE SAFE")
        time.sleep(LOOK_S)
        terminal.write(b"1")
        leap.write_text("36000000")
        terminal.wait_for("MAKE SAFE")
        time.sleep(LOOK_S)
        terminal.write(b"\n")
        terminal.wait_for("Nothing was typed")
        assert confirmed(saved) == 4


def test_a_script_confirms_through_a_pipe(saved: Path) -> None:
    told = subprocess.run(
        RESUME, input="Ada\n1\n2\n", env={"TRIAGE_HOME": str(saved.parent)}, capture_output=True, text=True, timeout=60
    )
    assert told.returncode == 0, told.stderr
    assert confirmed(saved) == 2
