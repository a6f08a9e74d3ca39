"""The program on a real pseudo-terminal: broken bytes, type-ahead in one write, the chat as a fallback."""

import fcntl
import os
import select
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest

pty = pytest.importorskip("pty")
READ_S = 1.5
"""How long a person looks at a step before a key is pressed for it; a busy machine paints late."""
FULL_SCREEN = b"\x1b[?1049h"


class Terminal:
    """A program on a pseudo-terminal."""

    def __init__(self, folder: Path, term: str, size: tuple[int, int] = (80, 24)) -> None:
        self.keeper, end = pty.openpty()
        fcntl.ioctl(end, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        self.seen = b""
        environment = {**os.environ, "TERM": term, "TRIAGE_HOME": str(folder), "PYTHONUTF8": "1"}
        self.program = subprocess.Popen(
            [sys.executable, "-m", "triage"], stdin=end, stdout=end, stderr=end, env=environment, start_new_session=True
        )
        os.close(end)

    def wait_for(self, text: bytes) -> None:
        until = time.monotonic() + 60
        while text not in self.seen:
            assert time.monotonic() < until, self.seen[-2000:]
            if select.select([self.keeper], [], [], 0.2)[0]:
                try:
                    self.seen += os.read(self.keeper, 65536)
                except OSError:
                    raise AssertionError(self.seen[-2000:]) from None

    def write(self, text: bytes) -> None:
        self.seen = b""
        os.write(self.keeper, text)

    def close(self) -> None:
        if self.program.poll() is None:
            self.program.kill()
        self.program.wait()
        os.close(self.keeper)


def test_broken_bytes_and_type_ahead_in_one_write_leave_every_line_as_typed(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path, "xterm-256color")
    try:
        terminal.wait_for(b"New session")
        assert FULL_SCREEN in terminal.seen
        terminal.write(b"\xff\xfe\x7f\x7f\x7f1\r")
        terminal.wait_for(b"What does the drive do")
        terminal.write(b"1\r")
        terminal.wait_for(b"own words")
        terminal.write(b"it buzzes\rJ-7\rAda\r")
        terminal.wait_for(b"hybrid")
        terminal.write(b"1\r4\r95000 km\r4\rnote\rab\rnote\rcd\rleave\r")
        terminal.wait_for(b"triage resume")
        assert terminal.program.wait(20) == 0
    finally:
        terminal.close()
    (trace,) = tmp_path.glob("*.jsonl")
    told = trace.read_text(encoding="utf-8")
    assert '"text":"ab"' in told.replace(" ", "")
    assert '"text":"cd"' in told.replace(" ", "")
    assert '"value":95000000.0' in told.replace(" ", "")


def test_one_key_answers_and_digits_in_one_write_answer_one_step(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path, "xterm-256color")
    try:
        terminal.wait_for(b"New session")
        time.sleep(READ_S)
        terminal.write(b"1")
        terminal.wait_for(b"What does the drive do")
        terminal.write(b"buzzes for a few seconds after I turn it off\r")
        terminal.wait_for(b"fits well")
        time.sleep(READ_S)
        terminal.write(b"1")
        terminal.wait_for(b"Job reference")
        terminal.write(b"J-7\rAda\r")
        terminal.wait_for(b"hybrid")
        terminal.write(b"1\r4\runknown\r4\r")
        terminal.wait_for(b"heard or seen the complaint")
        time.sleep(READ_S)
        terminal.write(b"111")
        terminal.wait_for(b"notice it most")
        time.sleep(READ_S)
        terminal.write(b"\x15leave\r")
        terminal.wait_for(b"triage resume")
        assert terminal.program.wait(20) == 0
    finally:
        terminal.close()
    (trace,) = tmp_path.glob("*.jsonl")
    told = trace.read_text(encoding="utf-8").replace(" ", "")
    assert told.count('"kind":"check-answered"') == 1
    assert '"kind":"gate-answered"' in told


@pytest.mark.parametrize(("term", "size"), [("dumb", (80, 24)), ("xterm-256color", (30, 10))])
def test_where_the_full_screen_cannot_be_the_chat_starts_and_says_why(
    tmp_path: Path, term: str, size: tuple[int, int]
) -> None:
    terminal = Terminal(tmp_path, term, size)
    try:
        terminal.wait_for(b"plain chat starts")
        terminal.wait_for(b"What does the drive do")
        assert FULL_SCREEN not in terminal.seen
    finally:
        terminal.close()
