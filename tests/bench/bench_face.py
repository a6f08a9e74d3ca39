"""How soon the full screen answers a key, over a real pseudo-terminal, in sessions of different length.

    python tests/bench/bench_face.py [--keys 60] [--messages 10 500 5000] [--python PATH]

Long sessions are made by the app's own functions and opened from the start screen as a person would open them. A key is
timed from the moment it is written to the terminal until what it changes has been read back; for an answered check,
until the next step stands there, and until the ranking beside it has followed. Ends with 1 where a target is missed.
`--python` names the interpreter of another install, such as a wheel's. How soon the program is there: bench_start.py.
"""

import argparse
import re
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.pseudo_terminal import Terminal
from triage.app.case_vehicle import Vehicle
from triage.app.cases import Case, Recorded
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.session_page import said_lines
from triage.present.steps.views import step_view
from triage.session import commands as c
from triage.store import TraceWriter

PROGRAM = ["-P", "-m", "triage"]
"""Without the folder that the script was started in, so that another install is really used."""
FRAME_MS = 16.0
MOST_MS = {"letter": FRAME_MS, "scroll": FRAME_MS, "ranking": 50.0}
"""Targets of the medians: one frame for a letter, two for Enter; the ranking follows the step within 50 ms."""
ENTER_MS = 2 * FRAME_MS
QUIET_S = 0.25
ROWS = 40
UP = b"\x1b[A"


@dataclass(frozen=True)
class Asked:
    """The check that a long session stands at: a number that answers it, and the title of the step that comes then."""

    number: str
    then: str


def long_session(folder: Path, messages: int) -> Asked:
    """Write a session with so many messages: answers, answers taken back, remarks; it is left paused at a check."""
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
    asked = _asked(job)
    job.do(c.Pause(at_ms=clock(), who="Ada"))
    job.leave()
    return asked


def _asked(job: Job) -> Asked:
    """Answer the check on screen, look what comes, and take the answer back."""
    check = job.knowledge.checks[job.state.step.check]
    number, outcome = next((at, one) for at, one in enumerate(check.outcomes, 1) if not one.says_nothing)
    job.do(c.Answer(at_ms=job.clock(), who="Ada", check=check.id, outcomes=(outcome.id,)))
    then = step_view(job.knowledge, job.state).title
    job.do(c.TakeBack(at_ms=job.clock(), who="Ada", check=check.id))
    return Asked(f"#{number}" if check.reading else str(number), then)


def _more(job: Job, case: Case) -> Iterator[c.Command]:
    text = f"remark {len(job.events)} of a long day at this vehicle"
    yield c.Note(at_ms=job.clock(), who="Ada", text=text)
    found = next(iter(job.state.findings), "")
    if found:
        yield c.TakeBack(at_ms=job.clock(), who="Ada", check=found)
    else:
        answer = Recorded(case).answer(job.knowledge, job.state, job.clock())
        if answer:
            yield answer


class Session:
    """A long session on a terminal; keys are pressed in it and timed."""

    def __init__(self, terminal: Terminal, asked: Asked) -> None:
        """Open it from the start screen."""
        self.terminal, self.asked = terminal, asked
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

    def times_ms(self, keys: int, *, scrolls: bool) -> dict[str, list[float]]:
        """Press each kind of key so many times; a log that is in view as a whole does not scroll."""
        told: dict[str, list[float]] = {}
        for number in range(keys):
            if scrolls:
                told.setdefault("scroll", []).append(self.press(UP, "remark"))
            for letter, line in (("n", "n"), ("o", "no"), ("t", "not"), ("e", "note")):
                took_ms = self.press(letter.encode(), line)
            told.setdefault("letter", []).append(took_ms)
            told.setdefault("Enter, a question", []).append(self.press(b"\r", "What is to be noted?"))
            self.terminal.settle(QUIET_S)
            self.terminal.write(f"remark {number}".encode())
            told.setdefault("Enter, a note is saved", []).append(self.press(b"\r", "Written down"))
            step_ms, ranking_ms = self._answer()
            told.setdefault("Enter, a check is answered", []).append(step_ms)
            told.setdefault("ranking", []).append(ranking_ms)
        return told

    def _answer(self) -> tuple[float, float]:
        """Answer the check, and take the answer back: how long the next step took, and the ranking behind it [ms]."""
        self.terminal.settle(QUIET_S)
        pressed_s = self.terminal.write(f"{self.asked.number}\r".encode())
        step_s = self.terminal.wait_for(f" {self.asked.then} ")
        ranking_s = self.terminal.wait_for("LIKELY")
        self.terminal.settle(QUIET_S)
        self.terminal.write(b"back\r")
        self.terminal.settle(QUIET_S)
        return (step_s - pressed_s) * 1e3, (ranking_s - pressed_s) * 1e3

    def memory_mb(self) -> float:
        """What the program holds in memory now [MB]; only Linux says so."""
        status = Path(f"/proc/{self.terminal.program.pid}/status").read_text(encoding="utf-8")
        return int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) / 1024


@contextmanager
def session(python: str, messages: int) -> Iterator[Session]:
    """A session with so many messages, opened."""
    with tempfile.TemporaryDirectory() as folder:
        asked = long_session(Path(folder), messages)
        with Terminal([python, *PROGRAM], Path(folder), size=(120, ROWS)) as terminal:
            yield Session(terminal, asked)


def report_keys(messages: int, told: dict[str, list[float]], opened: Session) -> bool:
    """Print how keys went, and say whether the target is met."""
    print(f"\n{messages:,} messages: opened in {opened.opened_ms:.0f} ms, {opened.memory_mb():.0f} MB afterwards")
    print(f"{'key':<30}{'median':>9}{'95th of 100':>13}{'target':>10}")
    met = True
    for name, times_ms in told.items():
        median_ms, most_ms = statistics.median(times_ms), MOST_MS.get(name, ENTER_MS)
        met &= median_ms <= most_ms
        rare_ms = statistics.quantiles(times_ms, n=20)[-1]
        print(f"{name:<30}{median_ms:>6.1f} ms{rare_ms:>10.1f} ms{most_ms:>7.0f} ms")
    return met


def main() -> int:
    """Measure, print, and say whether the targets are met."""
    parser = argparse.ArgumentParser(description="Time the full screen's answer to a key.")
    parser.add_argument("--keys", type=int, default=60)
    parser.add_argument("--messages", type=int, nargs="*", default=[10, 500, 5000])
    parser.add_argument("--python", default=sys.executable)
    options = parser.parse_args()
    met = True
    for messages in options.messages:
        with session(options.python, messages) as opened:
            told = opened.times_ms(options.keys, scrolls=messages > 2 * ROWS)
            met &= report_keys(messages, told, opened)
    print(f"\n{'within' if met else 'ABOVE'} the targets")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
