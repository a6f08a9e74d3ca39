"""How soon the full screen is there and how soon it answers a key, over a real pseudo-terminal.

    python tests/bench/bench_face.py [--starts 11] [--keys 60] [--messages 500 5000] [--python PATH]

First paint is set against a bare program of the same toolkit, started in turn with ours, so that a busy machine is busy
for both. Long sessions are made by the app's own functions and opened from the start screen as a person would open
them. A key is timed from the moment it is written to the terminal until what it changes has been read back. Ends with 1
where a target is missed. `--python` names the interpreter of another install, such as a wheel's.
"""

import argparse
import re
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
sys.path.insert(0, str(Path(__file__).resolve().parent))

from pseudo_terminal import Terminal

from triage.app.cases import Case, Vehicle, next_command
from triage.app.job import Job, Opening, start
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.page import said_lines
from triage.session import commands as c
from triage.store import TraceWriter

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
MOST_TIMES_BARE = 1.3
MOST_MS = 50.0
QUIET_S = 0.25
UP = b"\x1b[A"


def long_session(folder: Path, messages: int) -> None:
    """Write a session with so many messages: answers, answers taken back, remarks; it is left paused."""
    knowledge = load_knowledge(trees_folder())
    symptom = next(iter(knowledge.trees))
    now = [time.time_ns() // 1_000_000 - messages * 1000]

    def clock() -> int:
        now[0] += 100
        return now[0]

    job = start(knowledge, Opening(symptom, "long", "Ada"), {}, "", clock, TraceWriter.create(folder, "long"))
    case = Case(id="long", symptom=symptom, vehicle=Vehicle(cylinders=4))
    said = 0
    while said < messages:
        for command in _more(job, case):
            said += sum(len(said_lines(knowledge, event)) for event in job.do(command))
    job.do(c.Pause(at_ms=clock(), who="Ada"))
    job.leave()


def _more(job: Job, case: Case) -> Iterator[c.Command]:
    text = f"remark {len(job.events)} of a long day at this vehicle"
    yield c.Note(at_ms=job.clock(), who="Ada", text=text)
    found = next(iter(job.state.findings), "")
    if found:
        yield c.TakeBack(at_ms=job.clock(), who="Ada", check=found)
    else:
        answer = next_command(job.knowledge, case, job.state, job.clock())
        if answer:
            yield answer


def starts(python: str, rounds: int) -> dict[str, list[float]]:
    """Time starts [s], ours and the bare one in turn; the first round compiles and is left out."""
    took_s: dict[str, list[float]] = {"bare program": [], "first paint": [], "start screen": []}
    for _ in range(rounds + 1):
        with tempfile.TemporaryDirectory() as folder:
            with Terminal([python, "-c", BARE], Path(folder)) as bare:
                took_s["bare program"].append(bare.wait_for("a bare program") - bare.began_s)
            with Terminal([python, *PROGRAM], Path(folder)) as ours:
                took_s["first paint"].append(ours.wait_for("triage") - ours.began_s)
                took_s["start screen"].append(ours.wait_for("New session") - ours.began_s)
    return {name: times[1:] for name, times in took_s.items()}


class Session:
    """A long session on a terminal; keys are pressed in it and timed."""

    def __init__(self, terminal: Terminal) -> None:
        """Open it from the start screen."""
        self.terminal = terminal
        terminal.wait_until(lambda seen: "Go on" in seen, "the start screen")
        terminal.settle(QUIET_S)
        number = re.findall(r"(\d) Go on", terminal.read(0.0))[-1]
        pressed_s = terminal.write(f"{number}\r".encode())
        self.opened_ms = (terminal.wait_for("Who is at the vehicle") - pressed_s) * 1e3
        terminal.settle(QUIET_S)
        terminal.write(b"Ada\r")
        terminal.wait_for("> Ada")

    def press(self, key: bytes, change: str) -> float:
        """Press a key on a screen at rest.

        Returns:
            how long the change took to come [ms].
        """
        self.terminal.settle(QUIET_S)
        pressed_s = self.terminal.write(key)
        return (self.terminal.wait_for(change) - pressed_s) * 1e3

    def times_ms(self, keys: int) -> dict[str, list[float]]:
        """Press each kind of key so many times."""
        told: dict[str, list[float]] = {"letter": [], "scroll": [], "Enter, a question": [], "Enter, an answer": []}
        for number in range(keys):
            told["scroll"].append(self.press(UP, "remark"))
            for letter, line in (("n", "n"), ("o", "no"), ("t", "not"), ("e", "note")):
                took_ms = self.press(letter.encode(), line)
            told["letter"].append(took_ms)
            told["Enter, a question"].append(self.press(b"\r", "What is to be noted?"))
            self.terminal.settle(QUIET_S)
            self.terminal.write(f"remark {number}".encode())
            told["Enter, an answer"].append(self.press(b"\r", "Written down"))
        return told

    def memory_mb(self) -> float:
        """What the program holds in memory now [MB]; only Linux says so."""
        status = Path(f"/proc/{self.terminal.program.pid}/status").read_text(encoding="utf-8")
        return int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) / 1024


@contextmanager
def session(python: str, messages: int) -> Iterator[Session]:
    """A session with so many messages, opened."""
    with tempfile.TemporaryDirectory() as folder:
        long_session(Path(folder), messages)
        with Terminal([python, *PROGRAM], Path(folder), size=(120, 40)) as terminal:
            yield Session(terminal)


def report_starts(took_s: dict[str, list[float]]) -> bool:
    """Print how starts went, and say whether the target is met."""
    bare_s = statistics.median(took_s["bare program"])
    print(f"{'start':<20}{'median':>9}{'times bare':>12}")
    for name, times_s in took_s.items():
        print(f"{name:<20}{statistics.median(times_s) * 1e3:>6.0f} ms{statistics.median(times_s) / bare_s:>12.2f}")
    return statistics.median(took_s["first paint"]) <= MOST_TIMES_BARE * bare_s


def report_keys(messages: int, told: dict[str, list[float]], opened: Session) -> bool:
    """Print how keys went, and say whether the target is met."""
    print(f"\n{messages:,} messages: opened in {opened.opened_ms:.0f} ms, {opened.memory_mb():.0f} MB afterwards")
    print(f"{'key':<20}{'median':>9}{'95th of 100':>13}")
    for name, times_ms in told.items():
        print(f"{name:<20}{statistics.median(times_ms):>6.1f} ms{statistics.quantiles(times_ms, n=20)[-1]:>10.1f} ms")
    return all(statistics.median(times_ms) < MOST_MS for times_ms in told.values())


def main() -> int:
    """Measure, print, and say whether the targets are met."""
    parser = argparse.ArgumentParser(description="Time the full screen's first paint and its answer to a key.")
    parser.add_argument("--starts", type=int, default=11)
    parser.add_argument("--keys", type=int, default=60)
    parser.add_argument("--messages", type=int, nargs="*", default=[500, 5000])
    parser.add_argument("--python", default=sys.executable)
    options = parser.parse_args()
    met = report_starts(starts(options.python, options.starts))
    for messages in options.messages:
        with session(options.python, messages) as opened:
            met &= report_keys(messages, opened.times_ms(options.keys), opened)
    print(
        f"\n{'within' if met else 'ABOVE'} the targets: first paint {MOST_TIMES_BARE:g} times bare, keys {MOST_MS:g} ms"
    )
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
