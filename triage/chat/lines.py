"""Where the chat's lines come from: a plain stream, or a line editor on a capable terminal.

Both wait with one eye on the session: `waiting` is called about twice a second, and when it says that the step on
screen has changed, the wait ends without a line.
"""

import contextlib
import queue
import sys
import threading
import time
from collections.abc import Callable
from typing import Protocol

from triage.present.read_first import MOMENT_S

if sys.platform != "win32":
    import termios

POLL_S = 0.5


class InputEndedError(Exception):
    """The input has ended."""


class Lines(Protocol):
    """Something that asks and says.

    Attributes:
        ahead: whether the last line was ended before its prompt had stood there for a moment; of a script it never is.
    """

    ahead: bool

    def read(self, prompt: str, waiting: Callable[[], bool]) -> str | None:
        """One line; None when `waiting` ended the wait.

        Raises:
            InputEndedError: there will be no more lines.
        """

    def say(self, text: str) -> None:
        """Put text before the reader; it has been cleaned."""


class PlainLines:
    """Lines from standard input, for pipes, serial lines, dumb terminals and screen readers."""

    def __init__(self) -> None:
        """Read ahead in a thread, so that time passes while nobody types."""
        self.ahead = False
        self._by_hand = sys.stdin.isatty()
        self._queue: queue.Queue[tuple[float, str | None]] = queue.Queue()
        threading.Thread(target=self._fill, daemon=True).start()

    def _fill(self) -> None:
        # Without a buffer: the interpreter aborts at its end when a thread still waits behind the lock of one.
        with open(sys.stdin.fileno(), "rb", buffering=0, closefd=False) as stream:
            for raw in iter(stream.readline, b""):
                self._queue.put((time.monotonic(), raw.decode("utf-8", "replace").rstrip("\r\n")))
        self._queue.put((time.monotonic(), None))

    def read(self, prompt: str, waiting: Callable[[], bool]) -> str | None:
        """One line; None when `waiting` ended the wait."""
        sys.stdout.write(prompt)
        sys.stdout.flush()
        shown_s = time.monotonic()
        while True:
            try:
                ended_s, line = self._queue.get(timeout=POLL_S)
            except queue.Empty:
                if waiting():
                    self._forget_half_typed()
                    return None
                continue
            if line is None:
                raise InputEndedError
            self.ahead = self._by_hand and ended_s - shown_s < MOMENT_S
            return line

    def _forget_half_typed(self) -> None:
        """Drop what was begun for a question that is gone; what Enter has ended is in the queue already."""
        if self._by_hand and sys.platform != "win32":
            with contextlib.suppress(termios.error):
                termios.tcflush(sys.stdin.fileno(), termios.TCIFLUSH)

    def say(self, text: str) -> None:
        """Write text."""
        sys.stdout.write(text + "\n")
        sys.stdout.flush()
