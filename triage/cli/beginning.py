"""How every face begins a session: the clock, the name of the trace, and the folder that it is kept in."""

import time
from typing import TYPE_CHECKING

from triage.errors import TriageError

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.app.opening import Opening
    from triage.knowledge.models import Knowledge
    from triage.store import TraceWriter

READABLE = "abcdefghijklmnopqrstuvwxyz0123456789-"
LONGEST_NAME = 40
MOST_AT_ONCE = 100
"""Sessions of one job in one second; more is no accident."""


def now_ms() -> int:
    """Milliseconds since 1970-01-01 UTC."""
    return time.time_ns() // 1_000_000


def expect_date() -> None:
    """Begin and take up no session by a clock that nobody has set, such as one without its battery.

    Raises:
        TriageError: it says a day on which no session can be.
    """
    from triage.session.audit import date_of, is_dated

    if not is_dated(now_ms()):
        raise TriageError(
            f"The clock of this computer says {date_of(now_ms())}.",
            "Set it first: every answer is dated by it. Nothing was begun, and every saved session is as it was.",
        )


def begin(knowledge: "Knowledge", opening: "Opening") -> "Job":
    """Start a session that is kept in the folder of sessions.

    Raises:
        TriageError: the shop file has faults, the clock is not set, or the trace cannot be written.
    """
    from triage.app.clocks import steady_clock
    from triage.app.job import start
    from triage.app.shop.shop_file import accuracies, read_shop
    from triage.store import shop_file_path

    expect_date()
    shop = read_shop(shop_file_path(), knowledge)
    writer = _new_trace(_name(opening.symptom, opening.job))
    instruments, prices = accuracies(knowledge, shop), shop.repair.in_use()
    return start(knowledge, opening, instruments, shop.reviewer, now_ms, writer, prices, shop.weights, steady_clock())


def _new_trace(name: str, number: int = 1) -> "TraceWriter":
    """Begin a trace; sessions of one job in one second get a number behind their name."""
    from triage.store import NameTaken, TraceWriter, data_folder

    try:
        return TraceWriter.create(data_folder(), name if number == 1 else f"{name}-{number}")
    except NameTaken:
        if number == MOST_AT_ONCE:
            raise
    return _new_trace(name, number + 1)


def _name(symptom: str, job: str) -> str:
    slug = "".join(letter if letter in READABLE else "-" for letter in job.lower())[:LONGEST_NAME].strip("-")
    return f"{time.strftime('%Y%m%d-%H%M%S', time.gmtime())}-{symptom}-{slug or 'job'}"
