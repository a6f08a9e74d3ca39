"""Read a long session in every way, and compare each with what verifying the same file takes.

    python tests/bench/bench_traces.py [--lines 100000]

The session is made by the rules of the program: paused, taken up, confirmed and noted in over and over. Each command
is a process of its own; times are of this machine, the ratios are what counts. Ends with 0 when no ratio is above 3.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.app.tracing import to_lines
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.events import Event, SessionStarted
from triage.session import commands as c
from triage.store import TraceWriter

MOST = 3.0
"""How often the time of verifying the others may take."""
NOTES_A_ROUND = 20
CONFIRMED_A_ROUND = 6
BEGAN_MS = 1_767_225_600_000


class _Clock:
    def __init__(self) -> None:
        self.now_ms = BEGAN_MS

    def __call__(self) -> int:
        self.now_ms += 1000
        return self.now_ms


def round_of(job: Job) -> tuple[Event, ...]:
    """What happens once: a pause, somebody takes it up, confirms and notes."""
    before = len(job.events)
    job.do(c.Pause(at_ms=job.clock(), who=job.who))
    job.do(c.Resume(at_ms=job.clock(), who=job.who))
    for _ in range(CONFIRMED_A_ROUND):
        job.do(c.Confirm(at_ms=job.clock(), who=job.who, confirmation=job.state.step.confirmation))
    for _ in range(NOTES_A_ROUND):
        job.do(c.Note(at_ms=job.clock(), who=job.who, text="It ticks while it cools down."))
    return job.events[before:]


def long_events(lines: int) -> tuple[Event, ...]:
    """A session of about so many lines; its round is decided once and repeated at later times."""
    knowledge, clock = load_knowledge(trees_folder()), _Clock()
    opening = Opening(symptom="shutdown-buzz", job="long", who="Ann")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", clock, None)
    job.do(c.AnswerGate(at_ms=clock(), who="Ann", answer="none"))
    for fact in ("pulley", "odometer", "cylinders"):
        job.do(c.TellFact(at_ms=clock(), who="Ann", fact=fact, value=None))
    while job.state.step.state == "anywhere":
        normal = knowledge.checks[job.state.step.check].normal(job.state.pulley)
        job.do(c.Answer(at_ms=clock(), who="Ann", check=job.state.step.check, outcomes=(normal,)))
    round_of(job)
    first = job.events
    once = round_of(job)
    took_ms = clock.now_ms - first[-1].at_ms
    events = list(first)
    for number in range((lines - len(first)) // len(once)):
        shift_ms = number * took_ms
        events += [
            event.model_copy(update={"at_ms": event.at_ms + shift_ms, "clock_ms": event.clock_ms + shift_ms})
            for event in once
        ]
    return tuple(events)


def written(folder: Path, lines: int) -> Path:
    """The long session on disk."""
    from triage.app.tracing import stored
    from triage.store.knowledge import keep_knowledge

    events = long_events(lines)
    writer = TraceWriter.create(folder, "long")
    started = events[0]
    assert isinstance(started, SessionStarted)
    keep_knowledge(folder, stored(started.knowledge))
    writer.append(to_lines(events, 1))
    writer.close()
    return folder / "long.jsonl"


def taken(command: str, path: Path) -> tuple[float, str]:
    """How long a command takes [s], and what it says last."""
    began = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "triage", command, str(path)],
        input="",
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "TRIAGE_HOME": str(path.parent), "PYTHONPATH": str(Path(__file__).parents[2])},
    )
    took_s = time.perf_counter() - began
    said = (done.stdout.strip() or done.stderr.strip()).splitlines()
    if done.returncode not in (0, 1):
        raise SystemExit(f"{command}: exit code {done.returncode}: {done.stderr[-500:]}")
    return took_s, said[-1][:70] if said else ""


def main() -> int:
    """Make the trace, read it in every way, print the table."""
    parser = argparse.ArgumentParser(description="Compare reading a long trace with verifying it.")
    parser.add_argument("--lines", type=int, default=100_000)
    lines = parser.parse_args().lines
    with tempfile.TemporaryDirectory() as folder:
        path = written(Path(folder), lines)
        sys.stdout.write(f"{lines} lines, {path.stat().st_size / 2**20:.1f} MiB\n")
        verified_s, said = taken("verify", path)
        sys.stdout.write(f"{'verify':<8}{verified_s:>8.1f} s            {said}\n")
        worst = 0.0
        for command in ("show", "demo", "costs", "resume"):
            took_s, said = taken(command, path)
            worst = max(worst, took_s / verified_s)
            sys.stdout.write(f"{command:<8}{took_s:>8.1f} s  x{took_s / verified_s:>5.2f}   {said}\n")
            sys.stdout.flush()
    return int(worst > MOST)


if __name__ == "__main__":
    sys.exit(main())
