"""Forge traces whose digests are right, take them up, and watch that nothing in them lets anybody near the drive.

    python tests/bench/craft_traces.py [--traces 5000] [--seed N] [--world short|shipped] [--demos]

Each trace is a real session (with --demos also the recorded ones) that was changed in one to three ways and sealed
anew: cut, lines out, swapped, twice, shuffled or spliced, a pause added, lapses or confirmations out, knowledge that
asks for nothing, other times, clocks, boots and rules. It is taken up through `triage.app.job.resume` and answered as a
person would. From there on the ledger of `walk_ledger.py` counts only what was said after the session was taken up,
under the interlocks of this program. A trace that is refused must be left as it was. Ends with 0 when nothing was wrong.
"""

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.walk_answers import WHO, sensible
from tests.bench.walk_clocks import HOUR_MS, SECOND_MS, Clocks
from tests.bench.walk_commands import Session, walk_one
from tests.bench.walk_ledger import AT_THE_VEHICLE, Ledger
from tests.bench.walk_worlds import shipped, small
from triage.app.clocks import Steady
from triage.app.job import Job, resume
from triage.app.tracing import to_lines
from triage.errors import CommandRefused, TraceDamaged, TraceUnsafe
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder
from triage.session import commands as c
from triage.store import Line, read_trace
from triage.store.lines import encode

Lines = list[Line]
SESSIONS = 60
"""How many real sessions are forged from."""
LONGEST = 250
"""Commands of such a session."""
ANSWERS = 45
"""Commands that a trace is answered with: enough for every confirmation of a state, and a check."""
YEAR_2020_MS = 1_577_836_800_000


# --- what a forger does to the lines of a trace


def cut(rng: random.Random, lines: Lines) -> Lines:
    """The end is gone."""
    return lines[: rng.randint(1, len(lines))]


def cut_at_the_vehicle(rng: random.Random, lines: Lines) -> Lines:
    """It ends where somebody stood at the vehicle, the engine running if it ever did."""
    steps = {n: line.data["step"] for n, line in enumerate(lines, 1) if line.kind == "step-offered"}
    there = [n for n, step in steps.items() if isinstance(step, dict) and step["kind"] in AT_THE_VEHICLE]
    running = [n for n in there if "running" in str(steps[n])]
    return lines[: rng.choice(running or there or [len(lines)])]


def one_out(rng: random.Random, lines: Lines) -> Lines:
    """One line is gone."""
    at = rng.randrange(len(lines))
    return lines[:at] + lines[at + 1 :]


def range_out(rng: random.Random, lines: Lines) -> Lines:
    """A stretch is gone."""
    at = rng.randrange(len(lines))
    return lines[:at] + lines[at + rng.randint(1, 30) :]


def swapped(rng: random.Random, lines: Lines) -> Lines:
    """Two neighbours have changed places."""
    at = rng.randrange(max(1, len(lines) - 1))
    return lines[:at] + lines[at : at + 2][::-1] + lines[at + 2 :]


def twice(rng: random.Random, lines: Lines) -> Lines:
    """A line stands twice, the second time anywhere behind."""
    at = rng.randrange(len(lines))
    to = rng.randint(at, len(lines))
    return lines[:to] + [lines[at]] + lines[to:]


def shuffled(rng: random.Random, lines: Lines) -> Lines:
    """A stretch is in any order."""
    at, to = sorted(rng.choices(range(len(lines) + 1), k=2))
    return lines[:at] + rng.sample(lines[at:to], to - at) + lines[to:]


def spliced(rng: random.Random, lines: Lines, others: list[Lines]) -> Lines:
    """It begins as one session and ends as another."""
    other = rng.choice(others)
    return lines[: rng.randint(1, len(lines))] + other[rng.randint(1, len(other)) :]


def pause_added(rng: random.Random, lines: Lines) -> Lines:
    """It says at its end, or somewhere, that the vehicle was left."""
    at = rng.choice([len(lines), rng.randint(1, len(lines))])
    return lines[:at] + [replace(lines[at - 1], kind="session-paused", data=_stamp(lines[at - 1]))] + lines[at:]


def lapses_out(rng: random.Random, lines: Lines) -> Lines:
    """Nothing has ended any confirmation, or one thing less."""
    lapses = [n for n, line in enumerate(lines) if line.kind in ("interlock-lapsed", "run-ended", "engine-off")]
    gone = set(lapses) if rng.random() < 0.5 else set(rng.sample(lapses, min(1, len(lapses))))
    return [line for n, line in enumerate(lines) if n not in gone]


def confirmations_out(rng: random.Random, lines: Lines) -> Lines:
    """States are entered, and nobody confirmed anything, or one thing less."""
    said = [n for n, line in enumerate(lines) if line.kind in ("thing-confirmed", "things-carried")]
    gone = set(said) if rng.random() < 0.5 else set(rng.sample(said, min(1, len(said))))
    return [line for n, line in enumerate(lines) if n not in gone]


def refusals_out(_rng: random.Random, lines: Lines) -> Lines:
    """Nobody ever said no."""
    return [line for line in lines if line.kind not in ("thing-refused", "held-tried-again")]


def asks_for_none(rng: random.Random, lines: Lines) -> Lines:
    """Its knowledge asks for nothing, or for everything once, or only of a vehicle that was apart, or for ever."""
    kind = rng.choice(["none", "once", "after", "for ever", "anywhere", "installed"])
    if kind == "installed":
        return _none_installed(rng, lines)
    return [_with_knowledge(lines[0], partial(_asking_less, kind)), *lines[1:]] if lines else lines


def years_ago(_rng: random.Random, lines: Lines) -> Lines:
    """Everything happened in 2020 by the wall clock."""
    first_ms = lines[0].at_ms if lines else 0
    return [replace(line, at_ms=line.at_ms - first_ms + YEAR_2020_MS) for line in lines]


def clock_forged(rng: random.Random, lines: Lines) -> Lines:
    """The readings of the forward clock are others: all moved, all the same, or far ahead."""
    first_ms, by_ms = rng.choice([0, 10**9]), rng.choice([-HOUR_MS, 3 * HOUR_MS, 10**12])
    kind, at = rng.choice(["moved", "one", "ahead"]), rng.randrange(len(lines))

    def reading(number: int, was_ms: int) -> int:
        if kind == "one":
            return first_ms
        return was_ms + by_ms if kind == "moved" or number >= at else was_ms

    return [_with(line, "clock_ms", reading(n, int(str(line.data.get("clock_ms", 0))))) for n, line in enumerate(lines)]


def boot_forged(rng: random.Random, lines: Lines) -> Lines:
    """The starts of the clock are others: one for all, one from some line on, or a far one."""
    boot, at = rng.choice([-1, 0, 1, 2, 3, 10**6]), rng.choice([0, rng.randrange(len(lines))])
    return [_with(line, "boot", boot) if n >= at else line for n, line in enumerate(lines)]


def rules_forged(rng: random.Random, lines: Lines) -> Lines:
    """It says that it was begun under other safety rules."""
    return [_with(lines[0], "rules", rng.choice([0, 1, 2, 3, 99])), *lines[1:]]


def step_forged(rng: random.Random, lines: Lines) -> Lines:
    """Its last step stands at the running engine."""
    running = [line for line in lines if line.kind == "step-offered" and "running" in str(line.data["step"])]
    return [*lines, rng.choice(running)] if running else lines


FORGERIES: dict[str, Callable[[random.Random, Lines], Lines]] = {
    one.__name__: one
    for one in (
        cut,
        cut_at_the_vehicle,
        one_out,
        range_out,
        swapped,
        twice,
        shuffled,
        pause_added,
        lapses_out,
        confirmations_out,
        refusals_out,
        asks_for_none,
        years_ago,
        clock_forged,
        boot_forged,
        rules_forged,
        step_forged,
    )
}


def _stamp(line: Line) -> dict[str, object]:
    return {key: line.data[key] for key in ("clock_ms", "boot") if key in line.data}


def _with(line: Line, key: str, value: object) -> Line:
    return replace(line, data={**line.data, key: value}) if key in line.data else line


def _with_knowledge(first: Line, change: Callable[[dict[str, Any]], None]) -> Line:
    data = dict(first.data)
    if isinstance(data.get("knowledge"), dict):
        knowledge = {**data["knowledge"]}  # type: ignore[dict-item]
        change(knowledge)
        data["knowledge"] = knowledge
    return replace(first, data=data)


def _asking_less(kind: str, knowledge: dict[str, Any]) -> None:
    states, things = knowledge["states"], knowledge["confirmations"]
    if kind == "none":
        knowledge["states"] = {name: {**state, "confirmations": []} for name, state in states.items()}
    elif kind == "for ever":
        lives = {"text": "9000000 h", "source": "from-memory"}
        knowledge["states"] = {name: {**state, "lives": lives} for name, state in states.items()}
    elif kind == "anywhere":
        checks = knowledge["checks"]
        knowledge["checks"] = {name: {**check, "state": "anywhere", "set_up": None} for name, check in checks.items()}
    else:
        less: dict[str, Any] = {"once": True} if kind == "once" else {"after": {"engine": "exploding"}}
        knowledge["confirmations"] = {name: {**thing, **less} for name, thing in things.items()}


def _none_installed(rng: random.Random, lines: Lines) -> Lines:
    """Rules were installed along the way that ask for nothing."""
    knowledge = lines[0].data.get("knowledge")
    if not isinstance(knowledge, dict):
        return lines
    interlocks = {key: dict(knowledge[key]) for key in ("hazards", "confirmations", "states")}
    interlocks["states"] = {name: {**state, "confirmations": []} for name, state in interlocks["states"].items()}
    at = rng.randint(1, len(lines))
    data = {**_stamp(lines[at - 1]), "rules": 2, "interlocks": interlocks}
    return [*lines[:at], replace(lines[at - 1], kind="rules-installed", data=data), *lines[at:]]


# --- what becomes of it


def sessions(rng: random.Random, knowledge: Knowledge, count: int) -> list[Lines]:
    """Real sessions, each up to where somebody went away from it."""
    made = []
    while len(made) < count:
        session = Session(knowledge, rng.choice(list(knowledge.trees)))
        counts = {key: Counter[str]() for key in ("given", "accepted", "steps", "closed", "happened")}
        walk_one(rng, session, rng.randint(20, LONGEST), counts)
        made.append(to_lines(session.events, 1))
    return made


def demos() -> list[Lines]:
    """The recorded sessions."""
    return [list(read_trace(path).lines) for path in sorted(demos_folder().glob("*.jsonl"))]


def seal(path: Path, lines: Iterable[Line]) -> None:
    """Write lines with numbers and digests that fit."""
    digest = ""
    with path.open("wb") as file:
        for number, line in enumerate(lines, 1):
            raw, digest = encode(replace(line, seq=number), digest)
            file.write(raw)


def take_up(path: Path, rng: random.Random, clocks: Clocks) -> tuple[Job | None, str]:
    """Take a trace up, or say in a word why not; it is as it was then."""
    before = path.read_bytes()
    steady = Steady(lambda: clocks.clock_ms, counts_sleep=rng.random() < 0.8)
    try:
        job, _ = resume(path, lambda: clocks.wall_ms, "Ana", steady, shipped().interlocks)
    except TraceUnsafe:
        assert path.read_bytes() == before, "a trace that is unsafe was changed"
        return None, "unsafe"
    except TraceDamaged:
        assert path.read_bytes() == before, "a damaged trace was changed"
        return None, "damaged"
    return job, "taken"


def answer(job: Job, rng: random.Random, clocks: Clocks, trace_ends: int) -> Counter[str]:
    """Answer a session that was taken up, as people do.

    Returns:
        The kinds of step at the vehicle that it came to.

    Raises:
        AssertionError: one of them stood without what it needs having been said after the session was taken up.
    """
    ledger = Ledger(job.events[0].knowledge)  # type: ignore[attr-defined]
    for event in job.events[:trace_ends]:
        ledger.see(event)
    ledger.end_all("said before the session was taken up", once=True)
    ledger.knowledge = ledger.knowledge.under(shipped().interlocks)
    seen, came_to, refusing = trace_ends, Counter[str](), rng.choice([0.0, 0.0, 0.05])
    for _ in range(ANSWERS):
        for event in job.events[seen:]:
            ledger.see(event)
        seen = len(job.events)
        _look(ledger, job, came_to)
        if job.state.closed:
            break
        clocks.wait(rng.choice([SECOND_MS, SECOND_MS, SECOND_MS, 40 * SECOND_MS]))
        command = sensible(rng, job.knowledge, job.state, clocks.stamp(rng.choice(WHO)), refusing=refusing)
        try:
            job.do(command)
        except CommandRefused:
            continue
    return came_to


def _look(ledger: Ledger, job: Job, came_to: Counter[str]) -> None:
    step = job.state.step
    objection = ledger.objection(step, (ledger.now or Clocks().moment)._replace(clock_ms=job.reading_ms()))
    assert not objection, objection
    target = ledger.knowledge.states.get(step.state)
    known = shipped().checks.get(step.check)
    declared = known is None or step.kind != "check" or known.state == step.state
    assert declared, f"{step.check} is made in {step.state}"
    if target and step.kind in AT_THE_VEHICLE:
        came_to["running" if target.engine == "running" else "hands-in"] += 1


def forged(rng: random.Random, lines: Lines, others: list[Lines]) -> tuple[Lines, tuple[str, ...]]:
    """A trace changed in one to three ways, and which."""
    made, ways = lines, []
    for _ in range(rng.choice([1, 1, 2, 3])):
        way = rng.choice([*FORGERIES, "spliced"])
        made = spliced(rng, made, others) if way == "spliced" else FORGERIES[way](rng, made)
        ways.append(way)
        # Without its first line it would not be a trace of this format.
        made = made if made and made[0].kind == "session-started" else [lines[0], *made]
    return made, tuple(ways)


def craft(knowledge: Knowledge, traces: int, seed: int, *, with_demos: bool) -> dict[str, Counter[str]]:
    """Forge so many traces and take them up.

    Returns:
        what became of them, by forgery and altogether, and the steps that they came to.

    Raises:
        AssertionError: somebody was let near the drive; it names the forgery.
    """
    rng = random.Random(seed)
    counts: dict[str, Counter[str]] = {"altogether": Counter(), "came to": Counter()}
    others = sessions(rng, knowledge, min(SESSIONS, max(4, traces // 10))) + (demos() if with_demos else [])
    with tempfile.TemporaryDirectory(prefix="craft-") as folder:
        for number in range(traces):
            lines, ways = forged(rng, rng.choice(others), others)
            path = Path(folder) / f"trace-{number}.jsonl"
            seal(path, lines)
            wall_ms = rng.choice([lines[-1].at_ms, lines[-1].at_ms + 9 * HOUR_MS, lines[-1].at_ms - HOUR_MS])
            clocks = Clocks(wall_ms=wall_ms, clock_ms=rng.choice([0, wall_ms, 10**12]))
            try:
                job, word = take_up(path, rng, clocks)
                if job:
                    counts["came to"].update(answer(job, rng, clocks, len(lines)))
                    job.leave()
            except AssertionError as error:
                raise AssertionError(f"trace {number}, {' and '.join(ways)}: {error}") from error
            path.unlink()
            counts["altogether"][word] += 1
            for way in set(ways):
                counts.setdefault(way, Counter())[word] += 1
    return counts


def table(counts: dict[str, Counter[str]]) -> str:
    """The counts as a table of text."""
    words = ("taken", "unsafe", "damaged")
    rows = [f"{'forgery':<22}" + "".join(f"{word:>10}" for word in words)]
    for way, counted in sorted(counts.items()):
        if way != "came to":
            rows.append(f"{way:<22}" + "".join(f"{counted[word]:>10}" for word in words))
    came = ", ".join(f"{n} times {kind}" for kind, n in sorted(counts["came to"].items()))
    return "\n".join([*rows, "", f"Steps at the vehicle after new confirmations: {came or 'none'}."])


def main() -> int:
    """Forge, print the table, and say how it went."""
    parser = argparse.ArgumentParser(description="Forge traces with right digests and take them up.")
    parser.add_argument("--traces", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    parser.add_argument("--world", choices=["short", "shipped"], default="short")
    parser.add_argument("--demos", action="store_true", help="forge the recorded sessions too")
    options = parser.parse_args()
    began = time.monotonic()
    knowledge = small().under(shipped().interlocks) if options.world == "short" else shipped()
    try:
        counts = craft(knowledge, options.traces, options.seed, with_demos=options.demos)
    except AssertionError as error:
        print(f"seed {options.seed}: {error}")
        return 1
    print(table(counts))
    print(f"\nseed {options.seed}: {options.traces} traces in {time.monotonic() - began:.0f} s, nothing wrong")
    return 0


if __name__ == "__main__":
    sys.exit(main())
