"""Where the chat's lines come from: a plain stream, or a line editor on a capable terminal.

Both wait with one eye on the session: `waiting` is called about twice a second, and when it says that the step on
screen has changed, the wait ends without a line.
"""

import queue
import sys
import threading
from collections.abc import Callable
from typing import Protocol

POLL_S = 0.5


class InputEndedError(Exception):
    """The input has ended."""


class Lines(Protocol):
    """Something that asks and says."""

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
        self._queue: queue.Queue[str | None] = queue.Queue()
        threading.Thread(target=self._fill, daemon=True).start()

    def _fill(self) -> None:
        # Without a buffer: the interpreter aborts at its end when a thread still waits behind the lock of one.
        with open(sys.stdin.fileno(), "rb", buffering=0, closefd=False) as stream:
            for raw in iter(stream.readline, b""):
                self._queue.put(raw.decode("utf-8", "replace").rstrip("\r\n"))
        self._queue.put(None)

    def read(self, prompt: str, waiting: Callable[[], bool]) -> str | None:
        """One line; None when `waiting` ended the wait."""
        sys.stdout.write(prompt)
        sys.stdout.flush()
        while True:
            try:
                line = self._queue.get(timeout=POLL_S)
            except queue.Empty:
                if waiting():
                    return None
                continue
            if line is None:
                raise InputEndedError
            return line

    def say(self, text: str) -> None:
        """Write text."""
        sys.stdout.write(text + "\n")
        sys.stdout.flush()
