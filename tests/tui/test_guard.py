"""The full screen opens only where it can be seen and left; elsewhere the plain chat serves."""

import fcntl
import os
import struct
import termios
from collections.abc import Iterator
from io import TextIOWrapper
from pathlib import Path
from typing import TextIO

import pytest

from triage.tui.guard import why_plain

pty = pytest.importorskip("pty")
GOOD = {"TERM": "xterm-256color"}


def resize(stream: TextIO, columns: int, rows: int) -> None:
    fcntl.ioctl(stream.fileno(), termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))


@pytest.fixture
def terminal() -> Iterator[TextIO]:
    keeper, end = pty.openpty()
    with os.fdopen(end, "w", encoding="utf-8") as stream:
        resize(stream, 80, 24)
        yield stream
    os.close(keeper)


def test_a_terminal_of_common_size_will_do(terminal: TextIO) -> None:
    assert why_plain(terminal, terminal, terminal, GOOD) == ""


@pytest.mark.parametrize("place", [0, 1, 2])
def test_every_stream_must_be_a_terminal(terminal: TextIO, tmp_path: Path, place: int) -> None:
    with (tmp_path / "elsewhere").open("w", encoding="utf-8") as file:
        streams = [terminal, terminal, terminal]
        streams[place] = file
        screen, out, errors = streams
        assert "not a terminal" in why_plain(screen, out, errors, GOOD)


@pytest.mark.parametrize("term", ["dumb", "", "unknown"])
def test_a_terminal_that_cannot_place_text_gets_the_chat(terminal: TextIO, term: str) -> None:
    assert "cannot place text" in why_plain(terminal, terminal, terminal, {"TERM": term})


@pytest.mark.parametrize(("columns", "rows", "fits"), [(40, 12, True), (39, 12, False), (40, 11, False), (5, 3, False)])
def test_a_terminal_must_be_large_enough(terminal: TextIO, columns: int, rows: int, fits: bool) -> None:
    resize(terminal, columns, rows)
    assert (why_plain(terminal, terminal, terminal, GOOD) == "") is fits


def test_another_encoding_gets_the_chat(terminal: TextIO) -> None:
    assert isinstance(terminal, TextIOWrapper)
    terminal.reconfigure(encoding="latin-1")
    assert "UTF-8" in why_plain(terminal, terminal, terminal, GOOD)
