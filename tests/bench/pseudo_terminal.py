"""A program on a pseudo-terminal of its own, as a window would run it; for bench_face.py and the tests of the face."""

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Self

ENOUGH_S = 60.0
_ESCAPES = re.compile(rb"\x1b(?:\[[0-9;:?<>=$]*[A-Za-z~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|[()][A-Z0-9]|[=>78cDEMH])")


def plain(output: bytes) -> str:
    """What a program wrote, without what places and colours it, and with one blank for several."""
    return re.sub(" +", " ", _ESCAPES.sub(b"", output).decode("utf-8", errors="replace"))


class Terminal:
    """A pseudo-terminal, the program on it and everything that it wrote since the last key.

    Args:
        words: the program and its arguments.
        folder: where the sessions are kept.
        term: the kind of terminal that the program is told of.
        size: columns and rows.
        window: whether it is the program's controlling terminal, whose end it is told of by SIGHUP.
        changes: changes to the program's environment.
    """

    def __init__(
        self,
        words: list[str],
        folder: Path,
        term: str = "xterm-256color",
        size: tuple[int, int] = (80, 24),
        *,
        window: bool = True,
        changes: Mapping[str, str] | None = None,
    ) -> None:
        self.keeper, end = pty.openpty()
        self.seen = self._earlier = b""
        self._end = end
        self.resize(*size)
        environment = {**os.environ, "TERM": term, "TRIAGE_HOME": str(folder), "PYTHONUTF8": "1", **(changes or {})}
        # Compiled modules are part of any install; without them every start would compile anew.
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        self.began_s = time.perf_counter()
        self.program = subprocess.Popen(
            words,
            stdin=end,
            stdout=end,
            stderr=end,
            env=environment,
            start_new_session=True,
            preexec_fn=_own if window else None,
        )
        os.close(end)
        self._end = self.keeper

    def resize(self, columns: int, rows: int) -> None:
        """Make the window larger or smaller; the kernel tells the program."""
        fcntl.ioctl(self._end, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def write(self, keys: bytes) -> float:
        """Press keys, forgetting what was seen before them; large pastes are fed as the program takes them.

        Returns:
            when the last of them was pressed [s].
        """
        self.read(0.0)
        self._earlier, self.seen = (self._earlier + self.seen)[-65536:], b""
        rest = memoryview(keys)
        while rest:
            readable, writable, _ = select.select([self.keeper], [self.keeper], [], ENOUGH_S)
            if readable:
                self._take()
            if writable:
                rest = rest[os.write(self.keeper, rest[:512]) :]
        return time.perf_counter()

    def read(self, seconds: float) -> str:
        """Read for a while.

        Returns:
            everything since the last key, without escapes.
        """
        until_s = time.perf_counter() + seconds
        while select.select([self.keeper], [], [], max(0.0, until_s - time.perf_counter()))[0]:
            if not self._take():
                break
        return plain(self.seen)

    def last_words(self) -> str:
        """The end of everything that was written, or the traceback in it."""
        self.read(0.5)
        told = plain(self._earlier + self.seen)
        return told[told.find("Traceback") :][:8000] if "Traceback" in told else told[-4000:]

    def wait_for(self, text: str, seconds: float = ENOUGH_S) -> float:
        """Read until a text has come.

        Returns:
            when it came [s].

        Raises:
            AssertionError: it did not come in time, or the program ended before.
        """
        return self.wait_until(lambda seen: text in seen, text, seconds)

    def wait_until(self, found: Callable[[str], bool], what: str, seconds: float = ENOUGH_S) -> float:
        """Read until what was written holds what is looked for, as `wait_for`."""
        until_s = time.perf_counter() + seconds
        while not found(plain(self.seen)):
            left_s = until_s - time.perf_counter()
            ready = left_s > 0 and select.select([self.keeper], [], [], left_s)[0]
            if not ready or not self._take():
                raise AssertionError(f"{what!r} did not come: {self.last_words()}")
        return time.perf_counter()

    def settle(self, quiet_s: float = 0.15) -> str:
        """Read until nothing has come for a while; a cursor that blinks is slower than that."""
        while select.select([self.keeper], [], [], quiet_s)[0] and self._take():
            pass
        return plain(self.seen)

    def wait_for_end(self, seconds: float = ENOUGH_S) -> int:
        """Wait until the program has ended, reading on so that it is not held up.

        Returns:
            its exit code.
        """
        until_s = time.perf_counter() + seconds
        while self.program.poll() is None:
            assert time.perf_counter() < until_s, f"it goes on: {plain(self.seen)[-3000:]}"
            if self.keeper >= 0:
                self.read(0.02)
            else:
                time.sleep(0.02)
        return self.program.returncode

    def hang_up(self) -> None:
        """Close the window."""
        os.close(self.keeper)
        self.keeper = -1

    def close(self) -> None:
        """End whatever still runs."""
        if self.program.poll() is None:
            os.killpg(self.program.pid, signal.SIGKILL)
        self.program.wait()
        if self.keeper >= 0:
            self.hang_up()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_raised: object) -> None:
        self.close()

    def _take(self) -> bool:
        try:
            came = os.read(self.keeper, 65536)
        except OSError:  # the program has closed its end
            return False
        self.seen += came
        return bool(came)


def _own() -> None:
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
