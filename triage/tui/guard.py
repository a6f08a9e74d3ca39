"""Whether the full-screen face can be opened here; where it cannot, the plain chat serves."""

import codecs
import os
from collections.abc import Mapping
from typing import TextIO

FEWEST_COLUMNS = 40
FEWEST_ROWS = 12


def why_plain(stdin: TextIO, stdout: TextIO, stderr: TextIO, environment: Mapping[str, str]) -> str:
    """Say what keeps the full screen from opening; empty where nothing does.

    The screen is drawn on standard error and keys come from standard input: one of them elsewhere would leave a program
    that nobody can see or stop.
    """
    if not all(stream.isatty() for stream in (stdin, stdout, stderr)):
        return "Input or output is not a terminal."
    if environment.get("TERM", "") in ("", "dumb", "unknown") and os.name != "nt":
        return "This terminal cannot place text on its screen."
    if not _is_utf8(stderr):
        return "This terminal does not use UTF-8."
    size = os.get_terminal_size(stderr.fileno())
    if size.columns < FEWEST_COLUMNS or size.lines < FEWEST_ROWS:
        return f"The terminal is smaller than {FEWEST_COLUMNS} columns and {FEWEST_ROWS} rows."
    return ""


def _is_utf8(stream: TextIO) -> bool:
    try:
        return codecs.lookup(stream.encoding or "").name == "utf-8"
    except LookupError:
        return False
