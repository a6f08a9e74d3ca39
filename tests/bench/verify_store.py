"""Verify a trace of 10,000 events and compare with merely parsing the same lines, in one run.

python tests/bench/verify_store.py
"""

import json
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from triage.store import Line, TraceWriter, list_traces, verify_trace

EVENTS = 10_000
KNOWLEDGE_BYTES = 250_000


def seconds(work: Callable[[], object]) -> float:
    """The best of five."""
    best = float("inf")
    for _ in range(5):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def run() -> None:
    """Print the ratios."""
    with tempfile.TemporaryDirectory() as folder:
        writer = TraceWriter.create(Path(folder), "job")
        opening = Line(1, 0, "Ann", "started", 1, {"format": 1, "knowledge": "x" * KNOWLEDGE_BYTES})
        rest = [
            Line(seq, seq, "Ann", "answered", 1, {"check": "look", "outcome": "worn"}) for seq in range(2, EVENTS + 1)
        ]
        writer.append([opening, *rest])
        writer.close()
        parse_s = seconds(lambda: [json.loads(raw) for raw in writer.path.read_bytes().splitlines()])
        verify_s = seconds(lambda: verify_trace(writer.path))
        list_s = seconds(lambda: list_traces(Path(folder)))
    print(
        f"{EVENTS} events: verifying takes {verify_s / parse_s:.1f} times as long as parsing ({parse_s * 1e3:.0f} ms),"
    )
    print(f"a look at its first and last line {list_s / parse_s:.3f} times.")


if __name__ == "__main__":
    run()
