"""Random keys against the full screen on a real pseudo-terminal, its interlocks watched from outside.

    nice python tests/bench/soak_keys.py [--keys 100000] [--seed 1]

The watcher shares no rule with the program. It reads the trace as it grows, keeps its own account of what was said of
each thing and what has ended it, and holds every step, every answer and what stands on the screen against that and
against the clocks. The keys try everything: sensible answers, words at any moment, one key and type-ahead, pastes,
broken bytes, windows of every size, hours that pass, a clock that is set, Ctrl-Z, leaving and coming back. A program
that ends by itself, or answers no key any more, is a fault. Ends with 0 where nothing was wrong, with 1 and the seed
where something was.
"""

import argparse
import os
import random
import re
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.pseudo_terminal import Terminal
from tests.bench.soak_watcher import Watcher
from tests.bench.walk_ledger import MINUTE_MS, things_of
from triage.app.clocks import steady_clock
from triage.app.job import start
from triage.app.opening import Opening
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.store import TraceWriter

PROGRAM = """
import faulthandler, signal, sys, time
faulthandler.register(signal.SIGUSR1)
from pathlib import Path
from triage.app import clocks
from triage.cli import beginning
leaps, steady = Path(sys.argv.pop()), clocks.steady_clock()
beginning.now_ms = lambda: time.time_ns() // 1_000_000 + sum(map(int, leaps.read_text().split()))
forward_ms = lambda: steady.reading_ms() + int(leaps.read_text().split()[0])
clocks.steady_clock = lambda: clocks.Steady(forward_ms, counts_sleep=True)
from triage.cli.main import run
sys.exit(run())
"""
"""The program with clocks that can be moved from outside, and that says where it is when it is asked.

The file holds how much time has passed besides, which both clocks count, and how far the wall clock was set [ms].
"""
TWO_KEYS: tuple[str, ...] = (
    "gate-answered",
    "fact-told",
    "thing-confirmed",
    "thing-refused",
    "something-changed",
    "alone-said",
    "set-up-finished",
    "run-started",
    "run-ended",
    "engine-off",
)
TWO_KEYS += ("part-recorded", "torque-recorded", "session-closed")
"""Events that no digit brings about by itself: they take a number and Enter."""
_KEY = re.compile(rb"\x1b\[200~.*?\x1b\[201~|\x1b(?:\[[0-9]*[A-Z~]|O[A-Z])|.", re.DOTALL)
"""One key; a paste counts as one."""
PASSING_MS = (31_000, 5 * MINUTE_MS, 16 * MINUTE_MS, 31 * MINUTE_MS, 61 * MINUTE_MS, 180 * MINUTE_MS)
SET_MS = (5_000, 5 * MINUTE_MS, 24 * 60 * MINUTE_MS, -5 * MINUTE_MS)
NOTICED_S = 3.0
"""The face lets time pass twice a second; a busy machine is slower."""
KEYS_A_RUN = 1500
WORDS: tuple[str, ...] = (
    "why",
    "tell",
    "watch",
    "cannot",
    "back",
    "amend",
    "figure",
    "note",
    "likely",
    "costs",
    "path",
    "sources",
)
WORDS += ("pause", "layout", "drive", "rate", "tool", "help", "trees", "taps", "leave", "q", "y", "n", "1", "2", "3")
WORDS += ("#1", "#2", "7.5", "12V", "0.3mm", "Ada", "Grace", "none", "unknown", "worn", "changed", "alone", "off")
SINGLE = [
    b"\x1b",
    b"\x7f",
    b"\x1b[D",
    b"\x1b[A",
    b"\x1b[B",
    b"\x1b[5~",
    b"\x1b[6~",
    b" ",
    b"\t",
    b"\x15",
    b"\xff",
    b"\xc3",
]
FUNCTION = [b"\x1bOP", b"\x1bOQ", b"\x1bOR", b"\x1bOS", b"\x1b[15~", b"\x1b[17~", b"\x1b[18~", b"\x1b[19~", b"\x1b[20~"]
LOOK_S = 0.5
"""How long a question is looked at before somebody's word is given; sooner, it is dropped."""
LOOKED_AT = 0.8
_PROOFS = {"": b"", "name": b"Grace\r", "word": b"clear\r", "dead": b"12.6 V\r0 V\r"}
"""What is typed with a line, by what it asks."""
PASTES = [b"y\ny\ny", b"1\r", b"\x1b[2Jy\r\x1by\r", b"9" * 3000, "\u202e7 s".encode()]
SIZES = ((80, 24), (120, 40), (60, 20), (40, 12), (20, 5), (1, 1), (300, 100))


class Hands:
    """Random keys into one run of the program, and eyes on its screen."""

    def __init__(self, draw: random.Random, folder: Path, watcher: Watcher, terminal: Terminal) -> None:
        """Sit down at a terminal."""
        self._draw, self._watcher, self._terminal = draw, watcher, terminal
        self._leap = folder / "leap"
        self._leapt_s = -NOTICED_S
        self._title = ""
        self.pressed = 0
        self.screens_held = 0

    def open(self) -> None:
        """From the start screen into the session."""
        self._terminal.wait_until(lambda seen: re.search(r"\d Go on", seen) is not None, "Go on")
        self._press(re.findall(r"(\d) Go on", self._terminal.read(0.0))[0].encode() + b"\r", 0.2)

    def act(self) -> None:
        """Do one thing, then look at trace and screen."""
        kind = self._draw.choices(
            (
                self._answer,
                self._word,
                self._single,
                self._paste,
                self._size,
                self._time,
                self._burst,
                self._lone,
                self._suspend,
            ),
            (70, 10, 10, 2, 3, 0.5, 2, 1.5, 0.3),
        )[0]
        kind()
        self._wake()
        self._watcher.look()
        self._hold_screen()

    def prove_alive(self) -> None:
        """Type something and see it; a screen that was just closing may have taken it with it, so more than once.

        Raises:
            AssertionError: it does not come up.
        """
        self._terminal.resize(80, 24)
        for attempt in range(4):
            self._wake()
            self._press(b"\x1b", 0.2)
            self._press(b"\x15", 0.2)
            self._read(0.0)
            if self._terminal.program.poll() is not None:
                return
            self._terminal.write(b"q7q")
            try:
                self._terminal.wait_for("q7q", 10)
                self._press(b"\x15", 0.05)
            except AssertionError:
                if attempt == 3 and self._terminal.program.poll() is None:
                    os.kill(self._terminal.program.pid, signal.SIGUSR1)
                    told = f"stopped: {self._stands()}; {self._terminal.read(2.0)[-4000:]}"
                    raise AssertionError(f"it answers no key; {told}") from None
            else:
                return

    def _press(self, keys: bytes, quiet_s: float = 0.03) -> None:
        self._read(0.0)
        self.pressed += len(_KEY.findall(keys))
        self._terminal.write(keys)
        until_s = time.monotonic() + 1.0
        while time.monotonic() < until_s and self._read(quiet_s):
            pass

    def _read(self, seconds: float) -> bool:
        """Read for a while, notice which step is painted, and say whether anything came."""
        before = len(self._terminal.seen)
        painted = re.findall("[╔╭┏][═─━] ([^═─━╔╭┏]+) [═─━]", self._terminal.read(seconds))
        self._title = painted[-1] if painted else self._title
        return len(self._terminal.seen) > before

    def _hold_screen(self) -> None:
        self._read(0.0)
        running = self._title.strip() in self._watcher.running_names()
        if running and time.monotonic() - self._leapt_s > NOTICED_S:
            # Lines of one answer are written one by one.
            while self._watcher.look():
                time.sleep(0.02)
            self.screens_held += 1
            passed_ms, set_ms = self._leaps_ms()
            noticed_ms = round(NOTICED_S * 1000)
            wall_ms = time.time_ns() // 1_000_000 + passed_ms + set_ms - noticed_ms
            clock_ms = steady_clock().reading_ms() + passed_ms - noticed_ms
            self._watcher.hold_now(wall_ms, clock_ms, f"stands on the screen as {self._title!r}")

    def _answer(self) -> None:
        step = self._watcher.step
        kind, draw = step.kind, self._draw
        if draw.random() < LOOKED_AT:
            self._read(LOOK_S)
        if kind == "confirm":
            self._press_line(step.lines)
        elif kind == "why":
            self._press(b"not so\r")
        elif kind == "torque":
            self._press(draw.choice((b"80 N\xc2\xb7m\rclick wrench\rthe sheet\r", b"1\r")))
        elif kind == "paused":
            self._press(b"Ada\r")
        elif kind == "fact":
            self._press(draw.choice((b"unknown\r", b"4\r")))
        elif kind == "check":
            self._press(
                draw.choice((b"1\r", b"1\r", b"1\r", b"2\r", b"3\r", b"#1\r", b"#1\r", b"7.5\r", b"12 mm\r30 mm\r"))
            )
        else:
            self._press(draw.choice((b"1\r", b"1\r", b"2\r", b"y\r")))

    def _press_line(self, lines: tuple[str, ...]) -> None:
        """Press an open line of the card, with what it asks to be typed; say no to it; or press one after another."""
        said, known = self._watcher.account.ledger.counting(), self._watcher.knowledge.confirmations
        open_lines = [at for at, line in enumerate(lines, 1) if not {*things_of(known.get(line), line)} <= {*said}]
        number = self._draw.choice(open_lines or [1])
        line = known.get(lines[number - 1])
        proof = _PROOFS[line.proof if line else ""]
        if self._draw.random() < 0.05:
            self._press(f"no {number}\r".encode())
        elif self._draw.random() < 0.05:
            self._press(b"".join(f"{one}\r".encode() for one in open_lines))
        else:
            self._press(f"{number}\r".encode() + proof)

    def _word(self) -> None:
        self._press(self._draw.choice(WORDS).encode() + self._draw.choice((b"\r", b"\r", b"\r1\r", b"")))

    def _single(self) -> None:
        self._press(self._draw.choice(SINGLE + FUNCTION))

    def _paste(self) -> None:
        self._press(b"\x1b[200~" + self._draw.choice(PASTES) + b"\x1b[201~")

    def _size(self) -> None:
        self._terminal.resize(*self._draw.choice(SIZES))
        if self._draw.random() < 0.7:
            self._read(0.02)
            self._terminal.resize(80, 24)

    def _time(self) -> None:
        passed_ms, set_ms = self._leaps_ms()
        if self._draw.random() < 0.5:
            passed_ms += self._draw.choice(PASSING_MS)
        else:
            set_ms += self._draw.choice(SET_MS)
        fresh = self._leap.with_suffix(".fresh")
        fresh.write_text(f"{passed_ms} {set_ms}")
        fresh.replace(self._leap)  # at once: the program reads it at any moment
        self._leapt_s = time.monotonic()

    def _leaps_ms(self) -> tuple[int, int]:
        passed_ms, set_ms = map(int, self._leap.read_text().split())
        return passed_ms, set_ms

    def _burst(self) -> None:
        self._press(self._draw.choice((b"1", b"2", b"111", b"1234567890")))

    def _lone(self) -> None:
        """A digit by itself, when everything before it has been taken and the step has been read."""
        self.prove_alive()
        self._read(0.5)
        self._watcher.look()
        before = self._watcher.kinds.copy()
        self._press(self._draw.choice((b"1", b"1", b"2", b"3")), 0.3)
        self._watcher.look()
        came = self._watcher.kinds - before
        assert not came.keys() & set(TWO_KEYS), f"one key brought about {dict(came)}"
        self._watcher.counts["digits by themselves"] += 1
        self._press(b"\x15")

    def _suspend(self) -> None:
        self._press(b"\x1a", 0.2)

    def _wake(self) -> None:
        """Bring the program back where Ctrl-Z has sent it away; a busy machine does that late."""
        if self._terminal.program.poll() is None and self._stands():
            os.kill(self._terminal.program.pid, signal.SIGCONT)
            # Until now it could notice nothing.
            self._leapt_s = time.monotonic()
            self._read(0.2)

    def _stands(self) -> bool:
        status = Path(f"/proc/{self._terminal.program.pid}/stat").read_text()
        return status.rpartition(")")[2].split()[0] == "T"


def soak(keys: int, seed: int, say: Callable[[str], object] = lambda _line: None) -> Counter[str]:
    """Press so many keys, in one run of the program after another.

    Returns:
        what was pressed and watched.

    Raises:
        AssertionError: something was shown, offered or done that must not be, or the program ended or hangs.
    """
    draw, knowledge, counts = random.Random(seed), load_knowledge(trees_folder()), Counter[str]()
    while counts["keys"] < keys:
        with tempfile.TemporaryDirectory() as name:
            counts += _run(draw, knowledge, Path(name), min(KEYS_A_RUN, keys - counts["keys"]))
        say(f"{counts['keys']} keys")
    return counts


def _run(draw: random.Random, knowledge: Knowledge, folder: Path, keys: int) -> Counter[str]:
    (folder / "leap").write_text("0 0")
    watcher = Watcher(_begun(draw, knowledge, folder))
    watcher.look()
    words = [sys.executable, "-c", PROGRAM, str(folder / "leap")]
    with Terminal(words, folder, changes={"TRIAGE_TRACEBACK": "1"}) as terminal:
        hands, acts = Hands(draw, folder, watcher, terminal), 0
        hands.open()
        while hands.pressed < keys and terminal.program.poll() is None and watcher.step.kind != "closed":
            hands.act()
            acts += 1
            if acts % 100 == 0 and terminal.program.poll() is None:
                hands.prove_alive()
        ended = terminal.program.poll()
        assert ended in (None, 0), f"ended with {ended}: {terminal.last_words()}"
    pressed = Counter(
        {"keys": hands.pressed, "runs of the program": 1, "screens at a running engine": hands.screens_held}
    )
    return watcher.counts + pressed


def _begun(draw: random.Random, knowledge: Knowledge, folder: Path) -> Path:
    """A session begun by the app's own function."""
    opening = Opening(symptom=draw.choice(list(knowledge.trees)), job="soak", who="Ada")
    writer = TraceWriter.create(folder, "soak")
    start(knowledge, opening, {}, "", lambda: time.time_ns() // 1_000_000, writer, steady=steady_clock()).leave()
    return writer.path


def main() -> int:
    """Soak, print what was watched, and say how it went."""
    parser = argparse.ArgumentParser(description="Press random keys and watch the interlocks from outside.")
    parser.add_argument("--keys", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    options = parser.parse_args()
    began_s = time.monotonic()
    try:
        counts = soak(options.keys, options.seed, lambda line: print(line, file=sys.stderr, flush=True))
    except AssertionError as error:
        print(f"seed {options.seed}: {error}")
        return 1
    for name, count in counts.items():
        print(f"{name:<34}{count:>9,}")
    print(f"\nseed {options.seed}: {time.monotonic() - began_s:.0f} s, nothing wrong")
    return 0


if __name__ == "__main__":
    sys.exit(main())
