"""The clock by which confirmations age and runs end: it only goes forward, and counts a computer's sleep."""

import sys
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Steady:
    """A clock that only goes forward.

    Args:
        reading_ms: its reading [ms]; where it began means nothing.
        counts_sleep: whether it goes on while the computer sleeps. Where it does not, or nobody knows, a gap in which
            nobody looked at it counts as a clock that jumped.
    """

    reading_ms: Callable[[], int]
    counts_sleep: bool


def steady_clock() -> Steady:
    """The best such clock of this system. Only on Linux and macOS is it documented that sleep counts."""
    if sys.platform == "linux":
        return Steady(lambda: time.clock_gettime_ns(time.CLOCK_BOOTTIME) // 1_000_000, counts_sleep=True)
    return Steady(lambda: time.monotonic_ns() // 1_000_000, counts_sleep=False)
