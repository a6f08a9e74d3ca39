"""Kill a scripted session at random moments and count what was acknowledged but is not on disk.

    python tests/bench/kill_session.py --kills 200 --seed 1

A child process types a recorded case into a session and says how many events it has acknowledged; the parent kills it
without warning, takes the trace up again and compares. The exit code is 1 when anything acknowledged is lost.
"""

import argparse
import random
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from triage.app.cases import Case, Recorded
from triage.app.job import start
from triage.app.opening import Opening
from triage.app.reading import replay
from triage.app.resuming import resume
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.session import commands as c
from triage.store import TraceWriter

LONGEST_WAIT_S = 0.8
NAME = "killed"


def now_ms() -> int:
    """Milliseconds since 1970-01-01 UTC."""
    return time.time_ns() // 1_000_000


def work(folder: Path) -> None:
    """Type a case, then notes without end; say after each command how many events are acknowledged."""
    knowledge = load_knowledge(trees_folder())
    case = Case(id="k", symptom="shutdown-buzz", findings={"shutdown-listen": "7 s"})
    writer = TraceWriter.create(folder, NAME)
    job = start(knowledge, Opening("shutdown-buzz", "k", "case"), accuracies(knowledge, Shop()), "", now_ms, writer)
    print("begun", flush=True)
    number = 0
    while True:
        command = Recorded(case).answer(knowledge, job.state, now_ms())
        number += 1
        if isinstance(command, c.Tick):
            # The case would wait two hours for a cold engine; the clock here is the real one.
            command = None
        job.do(command or c.Note(at_ms=now_ms(), who="case", text=f"note {number}"))
        print(len(job.events), flush=True)


@dataclass(frozen=True)
class Outcome:
    """What one kill left behind."""

    acknowledged: int
    kept: int
    notices: int


def kill_once(folder: Path, wait_s: float) -> Outcome:
    """Start a child, kill it after a while, and take its trace up again."""
    command = [sys.executable, __file__, "--work", str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        child.stdout.readline()
        time.sleep(wait_s)
        child.send_signal(signal.SIGKILL)
        said = [line for line in child.stdout.read().splitlines(keepends=True) if line.endswith("\n")]
    path = folder / f"{NAME}.jsonl"
    job, notices = resume(path, now_ms, "Bo")
    added = sum(event.who == "Bo" for event in job.events)
    job.leave()
    _, events, _, _ = replay(path)
    kept = len(events) - added
    path.unlink()
    return Outcome(int(said[-1]) if said else 0, kept, len(notices))


def kill_many(kills: int, seed: int) -> list[Outcome]:
    """Kill as many children as asked."""
    chance = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        return [kill_once(Path(name), chance.uniform(0, LONGEST_WAIT_S)) for _ in range(kills)]


def main() -> int:
    """Print a table; 1 when something acknowledged is lost."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--work", type=Path)
    args = parser.parse_args()
    if args.work:
        work(args.work)
    outcomes = kill_many(args.kills, args.seed)
    lost = [outcome for outcome in outcomes if outcome.kept < outcome.acknowledged]
    print(f"kills                     {len(outcomes)}")
    print(f"events acknowledged       {sum(outcome.acknowledged for outcome in outcomes)}")
    print(f"events kept               {sum(outcome.kept for outcome in outcomes)}")
    print(f"torn lines set aside      {sum(outcome.notices for outcome in outcomes)}")
    print(f"kills with something lost {len(lost)}")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
