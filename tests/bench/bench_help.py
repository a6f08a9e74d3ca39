"""How long `triage --help` takes, as a multiple of a bare interpreter, both in one run.

python tests/bench/bench_help.py
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 15
MOST = 6.0
COMMANDS = {
    "python -c pass": ["-c", "pass"],
    "triage --version": ["-m", "triage", "--version"],
    "triage --help": ["-m", "triage", "--help"],
}


def seconds(words: list[str]) -> float:
    """Time one start from nothing to the end."""
    began = time.perf_counter()
    subprocess.run([sys.executable, *words], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def run() -> None:
    """Print a table; the rounds alternate, so that a busy machine is busy for all."""
    times_s: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(ROUNDS + 1):
        for name, words in COMMANDS.items():
            times_s[name].append(seconds(words))
    # The first round compiles.
    medians_s = {name: statistics.median(times[1:]) for name, times in times_s.items()}
    bare_s = medians_s["python -c pass"]
    print(f"{'command':<18} {'median':>8}  times bare")
    for name, median_s in medians_s.items():
        print(f"{name:<18} {median_s * 1e3:>5.0f} ms  {median_s / bare_s:.1f}")
    ratio = medians_s["triage --help"] / bare_s
    print(f"{'within' if ratio <= MOST else 'ABOVE'} the target of {MOST:g}")


if __name__ == "__main__":
    run()
