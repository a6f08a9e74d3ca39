"""The program on a real pseudo-terminal: what a window, a shell and a line can do to it."""

import os
import random
import re
import signal
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from triage.app.reading import replay
from triage.app.resuming import resume
from triage.record.events import NoteAdded
from triage.tui.terminal import Reader

pytest.importorskip("pty")
from tests.bench.pseudo_terminal import Terminal

FULL_SCREEN, SHELL_AGAIN = b"\x1b[?1049h", b"\x1b[?1049l"
TRIAGE = [sys.executable, "-m", "triage"]
LEAPING = """
import sys, time
from pathlib import Path
from triage.cli import beginning
leap = Path(sys.argv.pop())
beginning.now_ms = lambda: time.time_ns() // 1_000_000 + int(leap.read_text())
from triage.cli.main import run
sys.exit(run())
"""
"""The program with a clock that can be moved from outside."""
HOUR_MS = 3_600_000
LOOK_S = 0.6
"""How long a confirmation or an answer is looked at before it is given; a busy machine paints late."""
QUIET_S = 0.15
"""How long nothing comes once a step is painted; a cursor that blinks is slower than that."""
AGAIN_S = 1.5
"""How long a digit is left alone before it is pressed again for something else."""


def by_shell(script: str) -> list[str]:
    """What a shell makes of a script in which `@` stands for the program."""
    return ["sh", "-c", script.replace("@", f"'{sys.executable}' -m triage")]


_SAVED: dict[str, dict[str, bytes]] = {}


def save_one(bench: Any, check: str) -> Path:
    """A session that was left at a check, in the folder of the bench; it is lived through once for all tests."""
    if check not in _SAVED:
        bench.lived_to(lambda step: step.kind in ("check", "round") and step.check == check).leave()
        (path,) = bench.folder.glob("*.jsonl")
        path.rename(bench.folder / "job.jsonl")
        kept = (bench.folder / "job.jsonl", *(bench.folder / "knowledge").glob("*.json"))
        _SAVED[check] = {str(file.relative_to(bench.folder)): file.read_bytes() for file in kept}
    (bench.folder / "knowledge").mkdir(exist_ok=True)
    for name, content in _SAVED[check].items():
        (bench.folder / name).write_bytes(content)
    return Path(bench.folder, "job.jsonl")


def titles(seen: str) -> list[str]:
    """The titles of the steps that were painted, in that order."""
    return re.findall("[╔╭┏][═─━] ([^═─━]+) [═─━]", seen)


def go_on(terminal: Any) -> None:
    """From the start screen into the saved session, and come to the vehicle."""
    terminal.wait_until(lambda seen: re.search(r"\d Go on", seen), "Go on")
    number = re.findall(r"(\d) Go on", terminal.read(0.0))[-1]
    terminal.write(f"{number}\r".encode())
    terminal.wait_for("Who is at the vehicle")
    terminal.write(b"Ada\r")
    terminal.wait_for("MAKE SAFE: 4")


def confirm_all(terminal: Any) -> str:
    """Through the interlock, one confirmation after the other, and say which step follows."""
    for _ in range(30):
        title = titles(terminal.settle(QUIET_S))[-1]
        if "MAKE SAFE" not in title:
            return title
        left, lines = map(int, re.findall(r"MAKE SAFE: (\d+) of (\d+)", title)[0])
        time.sleep(LOOK_S - QUIET_S)
        terminal.write(f"{lines - left + 1}\r".encode())
        terminal.wait_until(lambda seen, title=title: titles(seen)[-1:] not in ([], [title]), "the next step")
    raise AssertionError("the interlock has no end")


def notes_in(path: Path) -> list[str]:
    """What stands in the trace, read while its session goes on."""
    _, happened, _, _ = replay(path)
    return [event.text for event in happened if isinstance(event, NoteAdded)]


def note(terminal: Any, text: str) -> None:
    """Write a note and wait until it has been acknowledged."""
    terminal.write(b"note\r")
    terminal.wait_for("What is to be noted?")
    terminal.write(f"{text}\r".encode())
    terminal.wait_for("Written down")


def test_broken_bytes_and_type_ahead_in_one_write_leave_every_line_as_typed(bench: Any) -> None:
    path = save_one(bench, "belt-fit")
    with Terminal(TRIAGE, bench.folder) as terminal:
        go_on(terminal)
        terminal.write(b"\xff\xfe\x7f\x7f\x7fnote\rab\rnote\rcd\rleave\r")
        terminal.wait_for("triage resume")
        assert terminal.wait_for_end() == 0
    assert notes_in(path) == ["ab", "cd"]


def test_one_key_answers_and_digits_in_one_write_answer_one_step(tmp_path: Path) -> None:
    with Terminal(TRIAGE, tmp_path) as terminal:
        terminal.wait_for("New session")
        for looked_s, key, then in (
            (LOOK_S, b"1", "What does the drive do"),
            (0.0, b"buzzes for a few seconds after I turn it off\r", "fits well"),
            (AGAIN_S, b"1", "Job reference"),
            (0.0, b"J-7\rAda\r", "hybrid"),
            (LOOK_S, b"1\r4\runknown\r4\r", "From the complaint"),
            (LOOK_S, b"b\r", "answers at once"),
            (AGAIN_S, b"111", "Under which condition"),
            (0.0, b"\x15leave\r", "triage resume"),
        ):
            time.sleep(looked_s)
            terminal.write(key)
            terminal.wait_for(then)
        assert terminal.wait_for_end() == 0
    (path,) = tmp_path.glob("*.jsonl")
    _, happened, _, _ = replay(path)
    assert [event.kind for event in happened].count("check-answered") == 1
    assert "gate-answered" in [event.kind for event in happened]


def test_keys_pressed_before_anything_can_be_answered_start_nothing(tmp_path: Path) -> None:
    with Terminal(TRIAGE, tmp_path) as terminal:
        terminal.write(b"1\r1\rJ\rAda\r" * 3)
        terminal.wait_for("New session")
        terminal.settle()
        assert terminal.program.poll() is None
    assert not list(tmp_path.glob("*.jsonl"))


@pytest.mark.parametrize(
    ("words", "changes", "why"),
    [
        (TRIAGE, {"TERM": "dumb"}, "cannot place text"),
        (TRIAGE, {"TERM": ""}, "cannot place text"),
        (TRIAGE, {"PYTHONIOENCODING": "latin-1"}, "does not use UTF-8"),
        (by_shell("exec @ 2>errors"), {}, "What does the drive do"),
        (by_shell("@ | cat"), {}, "not a terminal"),
        (by_shell("@ </dev/null; echo ended"), {}, "ended"),
    ],
    ids=["dumb", "no-term", "latin-1", "stderr-in-a-file", "stdout-in-a-pipe", "stdin-from-nowhere"],
)
def test_where_the_full_screen_cannot_be_the_chat_serves_and_says_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], changes: dict[str, str], why: str
) -> None:
    monkeypatch.chdir(tmp_path)
    with Terminal(words, tmp_path, changes=changes) as terminal:
        terminal.wait_for(why)
        terminal.wait_for("What does the drive do")
        assert FULL_SCREEN not in terminal.seen
    errors = tmp_path / "errors"
    assert not errors.exists() or "not a terminal" in errors.read_text(encoding="utf-8")


@pytest.mark.parametrize("size", [(30, 10), (1, 1), (0, 0)])
def test_a_window_that_is_too_small_gets_the_chat(tmp_path: Path, size: tuple[int, int]) -> None:
    with Terminal(TRIAGE, tmp_path, size=size) as terminal:
        terminal.wait_until(lambda seen: "plainchat" in seen.replace(" ", "").replace("\r\n", ""), "the chat")
        assert FULL_SCREEN not in terminal.seen


@pytest.mark.parametrize("term", ["linux", "screen", "tmux-256color", "vt100"])
def test_every_kind_of_terminal_that_places_text_gets_the_full_screen(bench: Any, term: str) -> None:
    path = save_one(bench, "belt-fit")
    with Terminal(TRIAGE, bench.folder, term) as terminal:
        go_on(terminal)
        note(terminal, "seen")
        terminal.write(b"leave\r")
        assert terminal.wait_for_end() == 0
    assert notes_in(path) == ["seen"]


def test_a_window_of_every_size_at_any_time_loses_nothing(bench: Any) -> None:
    path = save_one(bench, "belt-fit")
    draw = random.Random(5)
    with Terminal(TRIAGE, bench.folder) as terminal:
        go_on(terminal)
        for number in range(40):
            terminal.resize(draw.choice((1, 2, 5, 40, 80, 300)), draw.choice((1, 3, 12, 24, 100)))
            if number % 10 == 0:
                terminal.write(b"note\r%d\r" % number)
            terminal.read(0.01)
        terminal.resize(80, 24)
        note(terminal, "still here")
        terminal.write(b"leave\r")
        assert terminal.wait_for_end() == 0
    assert notes_in(path) == ["0", "10", "20", "30", "still here"]


def test_a_paste_is_a_line_or_nothing(bench: Any) -> None:
    path = save_one(bench, "belt-fit")
    with Terminal(TRIAGE, bench.folder) as terminal:
        go_on(terminal)
        for pasted, said in (("y\ny\ny\n", "More than one line"), ("9" * 200_000, "at most"), ("a\x1b[2Jb", "More")):
            terminal.write(b"\x1b[200~" + pasted.encode() + b"\x1b[201~")
            terminal.wait_for(said)
        terminal.write(b"note\r\x1b[200~one line of 12 V\x1b[201~\r")
        terminal.wait_for("Written down")
        terminal.write(b"leave\r")
        assert terminal.wait_for_end() == 0
    assert notes_in(path) == ["one line of 12 V"]


def test_ctrl_z_gives_the_shell_back_and_time_has_passed_before_anything_is_shown_again(
    bench: Any, tmp_path_factory: pytest.TempPathFactory
) -> None:
    save_one(bench, "belt-fit")
    leap = tmp_path_factory.mktemp("leap") / "leap"
    leap.write_text("0")
    with Terminal([sys.executable, "-c", LEAPING, str(leap)], bench.folder) as terminal:
        go_on(terminal)
        step = confirm_all(terminal)
        terminal.write(b"\x1a")
        terminal.wait_until(lambda _: SHELL_AGAIN in terminal.seen, "the shell")
        os.waitpid(terminal.program.pid, os.WUNTRACED)
        leap.write_text(str(HOUR_MS))
        terminal.write(b"")
        os.kill(terminal.program.pid, signal.SIGCONT)
        terminal.wait_for("Time has passed")
        assert FULL_SCREEN in terminal.seen
        painted = titles(terminal.settle())
        assert painted
        assert step not in painted, painted
        note(terminal, "back")


@pytest.mark.parametrize(
    ("words", "window"),
    [(TRIAGE, True), (TRIAGE, False), (by_shell("trap '' HUP; exec @"), True)],
    ids=["window", "no-window", "told-to-outlive-it"],
)
def test_a_window_that_is_closed_ends_the_program_and_what_was_acknowledged_is_kept(
    bench: Any, words: list[str], window: bool
) -> None:
    path = save_one(bench, "belt-fit")
    with Terminal(words, bench.folder, window=window) as terminal:
        go_on(terminal)
        note(terminal, "kept")
        terminal.hang_up()
        assert terminal.wait_for_end(10) == -signal.SIGHUP
    assert notes_in(path) == ["kept"]
    taken_up, _ = resume(path, bench.clock, "Bo")
    taken_up.leave()


@pytest.mark.parametrize("cut", [1, 2, 3, 5, 7, 1000])
def test_no_key_comes_out_of_a_paste_however_it_is_cut_into_reads(cut: int) -> None:
    sent = b"k\x1b[A\x1b[200~a\x1b[2J\x1by\r\x1b\xff\x1b[201~\x1b[200~b\x1b[201~\x1b"
    reader = Reader()
    told = "".join(reader.decode(sent[at : at + cut]) for at in range(0, len(sent), cut))
    assert told == "k\x1b[A\x1b[200~a\ufffd[2J\ufffdy\r\ufffd\ufffd\x1b[201~\x1b[200~b\x1b[201~\x1b"


@pytest.mark.parametrize("keys", ["\x1b", "\x1b[", "\x1b[2", "1\r", "é\x1b[A"])
def test_a_key_is_never_held_back(keys: str) -> None:
    assert Reader().decode(keys.encode()) == keys
