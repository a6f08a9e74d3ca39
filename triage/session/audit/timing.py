"""Both clocks of a trace: the wall clock, which is for the record, and the one that only goes forward."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from triage.record import events as e

EARLIEST_MS = round(datetime(2000, 1, 1, tzinfo=UTC).timestamp() * 1000)
END_MS = round(datetime(2101, 1, 1, tzinfo=UTC).timestamp() * 1000)
"""Before and after these no bay has kept traces. From memory."""
MOST_APART_MS = 1000
"""How far the clocks may drift apart between two events without a word; what the session notices, too."""


def is_dated(at_ms: int) -> bool:
    """Whether the wall clock says a day on which a session may begin or be taken up."""
    return EARLIEST_MS <= at_ms < END_MS


def date_of(at_ms: int) -> str:
    """The day of a moment, in UTC."""
    return (datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=at_ms)).date().isoformat()


class Clocks:
    """What the last event said of them."""

    def __init__(self) -> None:
        """Know nothing yet."""
        self._last: e.Event | None = None

    def judge(self, event: e.Event) -> Iterator[str]:
        """Say what of an event's times cannot be, as the rest of a sentence, and remember them."""
        last, self._last = self._last, event
        # In between, a clock that was set wrongly is recorded, and nothing hangs on it; no session begins by one.
        if (last is None or last.boot != event.boot or not event.boot) and not is_dated(event.at_ms):
            yield f"is dated {date_of(event.at_ms)}, when no session was held"
        if last is None:
            if event.boot not in (0, 1):
                yield f"begins with start {event.boot} of the clock, not with the first"
        elif event.boot == last.boot and event.boot:
            yield from _within(last, event)
        elif event.boot not in (last.boot, last.boot + 1):
            yield f"counts start {event.boot} of the clock right after start {last.boot}"


def _within(last: e.Event, event: e.Event) -> Iterator[str]:
    passed_ms = event.clock_ms - last.clock_ms
    if passed_ms < 0:
        yield "goes back on the clock that only goes forward"
        return
    apart_ms = event.at_ms - last.at_ms - passed_ms
    if isinstance(event, e.ClockShifted):
        if event.by_ms != apart_ms:
            yield f"says that the clock was set by {_seconds(event.by_ms)}, and its times say {_seconds(apart_ms)}"
    elif abs(apart_ms) > MOST_APART_MS:
        yield f"stands {_seconds(apart_ms)} off on the wall clock, and nothing says that the clock was set"


def _seconds(span_ms: int) -> str:
    return f"{span_ms / 1000:+.1f} s".replace("-", "−")
