"""How every face begins a session: the clock, the name of the trace, and the folder that it is kept in."""

import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.app.opening import Opening
    from triage.knowledge.models import Knowledge

READABLE = "abcdefghijklmnopqrstuvwxyz0123456789-"
LONGEST_NAME = 40


def now_ms() -> int:
    """Milliseconds since 1970-01-01 UTC."""
    return time.time_ns() // 1_000_000


def begin(knowledge: "Knowledge", opening: "Opening") -> "Job":
    """Start a session that is kept in the folder of sessions.

    Raises:
        TriageError: the shop file has faults, or the trace cannot be written.
    """
    from triage.app.job import start
    from triage.app.shop import accuracies, read_shop
    from triage.store import TraceWriter, data_folder, shop_file_path

    shop = read_shop(shop_file_path(), knowledge)
    writer = TraceWriter.create(data_folder(), _name(opening.symptom, opening.job))
    instruments, prices = accuracies(knowledge, shop), shop.repair.in_use()
    return start(knowledge, opening, instruments, shop.reviewer, now_ms, writer, prices, shop.weights)


def _name(symptom: str, job: str) -> str:
    slug = "".join(letter if letter in READABLE else "-" for letter in job.lower())[:LONGEST_NAME].strip("-")
    return f"{time.strftime('%Y%m%d-%H%M%S', time.gmtime())}-{symptom}-{slug or 'job'}"
