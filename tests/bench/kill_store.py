"""Kill a program that saves lines, at random moments, and look whether a line that it acknowledged is gone.

    python tests/bench/kill_store.py [--kills 200] [--seed N]

The killed program appends answers of one to four lines, one line in forty a long one, and prints the last number of
each once it is saved. Every trace is killed five times and resumed in between. Ends with 0 when nothing was lost.
"""

import argparse
import os
import random
import subprocess
import sys
import tempfile
import time
from collections import Counter
from io import BufferedReader
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from triage.store import Line, TraceWriter, read_trace

REPOSITORY = Path(__file__).resolve().parents[2]
LIVES = 5
LONG_LINE = 40
# Long enough that a kill now and then hits the middle of its write.
LONG_LINE_BYTES = 2_000_000
LONGEST_LIFE_S = 0.15


def line_of(seq: int) -> Line:
    """The only line that may ever have this number."""
    text = "x" * LONG_LINE_BYTES if seq % LONG_LINE == 0 else f"answer {seq}"
    return Line(seq, 1_767_225_600_000 + seq, "Ann", "answered", 1, {"format": 1, "text": text})


def save_until_killed(path: Path) -> None:
    """The life of the program that gets killed."""
    writer = TraceWriter.reopen(path)[0] if path.exists() else TraceWriter.create(path.parent, path.stem)
    print(writer.head.count, flush=True)
    while True:
        first = writer.head.count + 1
        writer.append([line_of(seq) for seq in range(first, first + random.randint(1, 4))])
        print(writer.head.count, flush=True)


def live_once(path: Path, life_s: float) -> int:
    """Start it, kill it, and give back the last number that it acknowledged."""
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY)}
    command = [sys.executable, __file__, "--save", str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment) as process:
        assert isinstance(process.stdout, BufferedReader)
        said = process.stdout.readline()
        # Read while it lives, or it would stop at a full pipe.
        os.set_blocking(process.stdout.fileno(), False)
        end = time.monotonic() + life_s
        while time.monotonic() < end:
            said += process.stdout.read1() or b""
            time.sleep(0.001)
        process.kill()
        process.wait()
        os.set_blocking(process.stdout.fileno(), True)
        said += process.stdout.read()
    # A number that was not printed whole was not acknowledged.
    return int(said[: said.rindex(b"\n")].splitlines()[-1])


def judge(path: Path, acknowledged: int) -> str:
    """Compare the disk with what was acknowledged; says how the trace ended."""
    found = read_trace(path)
    kept = len(found.lines)
    if kept < acknowledged:
        sys.exit(f"{path}: {acknowledged} lines were acknowledged and {kept} are there")
    if found.lines != tuple(map(line_of, range(1, kept + 1))):
        sys.exit(f"{path}: a line is not what was saved")
    if found.notices:
        return "torn"
    return "to the line" if kept == acknowledged else "lines more than acknowledged"


def run(kills: int, seed: int) -> None:
    """Kill so many times and print how the traces ended."""
    chance = random.Random(seed)
    endings: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        for kill in range(kills):
            path = Path(folder) / f"job-{kill // LIVES}.jsonl"
            acknowledged = live_once(path, chance.uniform(0, LONGEST_LIFE_S))
            if acknowledged:
                endings[judge(path, acknowledged)] += 1
            else:
                path.unlink()
                endings["nothing saved yet"] += 1
    print(f"{kills} kills with seed {seed}, nothing lost. Ended: {dict(endings)}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--save", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.save:
        save_until_killed(options.save)
    else:
        run(options.kills, options.seed)
