"""How soon triage is there and answers its first key, with how many sessions saved, over a real pseudo-terminal.

    python tests/bench/bench_start.py [--starts 9] [--sessions 0 400 1000] [--python PATH]

Every start is set against a bare program of the same toolkit, started in turn with ours, so that a busy machine is busy
for both. *Usable* is the first key, pressed as soon as the start screen is there, answered. Saved sessions are copies
of a shipped demo under other names, every tenth cut before its end. The first start in a folder, which has nothing
kept yet, is told apart. Commands that print are set against an interpreter that does nothing. Ends with 1 where a
target is missed. `--python` names the interpreter of another install, such as a wheel's.
"""

import argparse
import os
import re
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.pseudo_terminal import Terminal

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "transcripts_demo" / "binding-clutch.jsonl"
BARE = """
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("a bare program")

Bare().run()
"""
PROGRAM = ["-P", "-m", "triage"]
"""Without the folder that the script was started in, so that another install is really used."""
COMMANDS = (
    ["--help"],
    ["quantity", "9 in-lb", "--as", "torque"],
    ["show", str(DEMO)],
    ["verify", str(DEMO)],
    ["symptom", "it chirps"],
)
PAINT_TIMES, USABLE_TIMES, MANY_TIMES = 1.15, 2.5, 1.3
"""Targets: first paint and usable over the bare program, many sessions over none."""
LINES_LEFT_OUT = 3


@dataclass
class Starts:
    """Times of starts with so many saved sessions, in seconds, and memory [MB]."""

    bare_s: list[float] = field(default_factory=list)
    paint_s: list[float] = field(default_factory=list)
    screen_s: list[float] = field(default_factory=list)
    usable_s: list[float] = field(default_factory=list)
    memory_mb: list[float] = field(default_factory=list)

    def times_bare(self, times_s: list[float]) -> float:
        """The median over that of the bare program in the same run."""
        return statistics.median(times_s) / statistics.median(self.bare_s)


def save_copies(folder: Path, count: int) -> None:
    """Fill a folder with saved sessions."""
    lines = DEMO.read_bytes().splitlines(keepends=True)
    for number in range(count):
        kept = lines if number % 10 else lines[:-LINES_LEFT_OUT]
        (folder / f"20260309-{number:06d}-shutdown-buzz-copy.jsonl").write_bytes(b"".join(kept))


def start_once(python: str, folder: Path, into: Starts) -> None:
    """Start the bare program and ours once, in turn."""
    with Terminal([python, "-c", BARE], folder) as bare:
        into.bare_s.append(bare.wait_for("a bare program") - bare.began_s)
    with Terminal([python, *PROGRAM], folder) as ours:
        into.paint_s.append(ours.wait_for("triage") - ours.began_s)
        into.screen_s.append(ours.wait_for("New session") - ours.began_s)
        ours.write(b"1\r")
        into.usable_s.append(ours.wait_for("What does the drive do?") - ours.began_s)
        ours.settle(0.5)
        status = Path(f"/proc/{ours.program.pid}/status").read_text(encoding="utf-8")
        into.memory_mb.append(int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) / 1024)


def run_s(words: list[str], folder: Path) -> float:
    """How long a command that prints takes [s], processor time of its own."""
    environment = {**os.environ, "TRIAGE_HOME": str(folder)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(words, env=environment, stdout=subprocess.DEVNULL, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


def report_starts(python: str, rounds: int, counts: list[int]) -> bool:
    """Start with each number of saved sessions, print how it went, and say whether the targets are met."""
    met = True
    none: Starts | None = None
    told = ("sessions", "first paint", "start screen", "usable", "usable, first time", "bare", "memory")
    print("".join(f"{word:>20}" for word in told))
    for count in counts:
        with tempfile.TemporaryDirectory() as name:
            save_copies(Path(name), count)
            first, later = Starts(), Starts()
            start_once(python, Path(name), first)
            for _ in range(rounds):
                start_once(python, Path(name), later)
        paint, screen, usable = map(later.times_bare, (later.paint_s, later.screen_s, later.usable_s))
        bare_ms, memory_mb = statistics.median(later.bare_s) * 1e3, statistics.median(later.memory_mb)
        print(
            f"{count:>20}{paint:>20.2f}{screen:>20.2f}{usable:>20.2f}"
            f"{first.usable_s[0] / statistics.median(later.bare_s):>20.2f}{bare_ms:>17.0f} ms{memory_mb:>17.0f} MB"
        )
        none = none or later
        many = later.times_bare(later.usable_s) <= MANY_TIMES * none.times_bare(none.usable_s)
        met &= paint <= PAINT_TIMES and usable <= USABLE_TIMES and many
    return met


def report_commands(python: str, rounds: int, counts: list[int]) -> None:
    """Print what commands take over an interpreter that does nothing."""
    print(f"\n{'command':<44}{'times an interpreter that does nothing':>40}")
    for count in counts:
        with tempfile.TemporaryDirectory() as name:
            save_copies(Path(name), count)
            for words in (["sessions"], *(COMMANDS if count == counts[0] else ())):
                run_s([python, *PROGRAM, *words], Path(name))
                took_s, pass_s = [], []
                for _ in range(rounds):
                    took_s.append(run_s([python, *PROGRAM, *words], Path(name)))
                    pass_s.append(run_s([python, "-c", "pass"], Path(name)))
                said = " ".join(Path(word).name for word in words) + (
                    f", {count} saved" if words == ["sessions"] else ""
                )
                print(f"{said:<44}{statistics.median(took_s) / statistics.median(pass_s):>40.1f}")


def main() -> int:
    """Measure, print, and say whether the targets are met."""
    parser = argparse.ArgumentParser(description="Time triage's start, its first key, and commands that print.")
    parser.add_argument("--starts", type=int, default=9)
    parser.add_argument("--sessions", type=int, nargs="*", default=[0, 400, 1000])
    parser.add_argument("--python", default=sys.executable)
    options = parser.parse_args()
    began_s = time.perf_counter()
    met = report_starts(options.python, options.starts, options.sessions)
    report_commands(options.python, options.starts, options.sessions)
    print(
        f"\n{'within' if met else 'ABOVE'} the targets: first paint {PAINT_TIMES:g}, usable {USABLE_TIMES:g} times "
        f"bare, {MANY_TIMES:g} times with sessions; {time.perf_counter() - began_s:.0f} s"
    )
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
