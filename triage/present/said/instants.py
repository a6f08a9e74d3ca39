"""Moments and spans of time in words."""

from datetime import UTC, datetime

MINUTE_MS = 60_000


def instant(at_ms: int) -> str:
    """A moment of the wall clock."""
    return datetime.fromtimestamp(at_ms / 1000, UTC).strftime("%Y-%m-%d %H:%M:%S UTC")


def day(at_ms: int) -> str:
    """Its day."""
    return instant(at_ms)[:10]


def time_of_day(at_ms: int) -> str:
    """Its time of the day."""
    return instant(at_ms)[11:19]


def elapsed(since_ms: int) -> str:
    """Hours and minutes since a start; a clock that was set back must show."""
    hours, minutes = divmod(abs(since_ms) // MINUTE_MS, 60)
    return f"{'−' if since_ms < 0 else '+'}{hours}:{minutes:02}"
