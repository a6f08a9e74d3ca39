"""Forge traces whose digests are right, take them up, and watch that nothing in them lets anybody near the drive.

    python tests/bench/craft_traces.py [--traces 5000] [--seed N] [--world short|shipped] [--demos] [--blind]

Each trace is a real session (with --demos also the recorded ones) that was changed in one to three ways and sealed
anew: cut, lines out, swapped, twice, shuffled or spliced, a pause added, lapses or confirmations out, knowledge that
asks for nothing, other times, clocks, boots and rules. It is taken up through `triage.app.resuming.resume` and answered
as a person would. From there on the ledger of `walk_ledger.py` counts only what was said after it was taken up, under
the interlocks of this program. With --blind the walk over the events that refuses unsafe traces is left out, so
that more of them are taken up. A trace that is refused must be left as it was. Ends with 0 when nothing was
wrong.
"""

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.forgeries import Lines, forged
from tests.bench.walk_answers import WHO, sensible
from tests.bench.walk_clocks import HOUR_MS, SECOND_MS, Clocks
from tests.bench.walk_commands import Session, walk_one
from tests.bench.walk_ledger import AT_THE_VEHICLE, Ledger
from tests.bench.walk_worlds import shipped, short
from tests.bench.whole_lines import whole_lines
from triage.app.clocks import Steady
from triage.app.job import Job
from triage.app.resuming import resume
from triage.app.tracing import to_lines
from triage.errors import CommandRefused, TraceDamaged, TraceUnsafe
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import demos_folder
from triage.record.events import Event, SessionStarted
from triage.store import Line
from triage.store.lines import encode

SESSIONS = 60
"""How many real sessions are forged from."""
LONGEST = 250
"""Commands of such a session."""
ANSWERS = 45
"""Commands that a trace is answered with: enough for every confirmation of a state, and a check."""


def sessions(rng: random.Random, knowledge: Knowledge, count: int) -> list[Lines]:
    """Real sessions, each up to where somebody went away from it."""
    made: list[Lines] = []
    while len(made) < count:
        session = Session(knowledge, rng.choice(list(knowledge.trees)))
        counts = {key: Counter[str]() for key in ("given", "accepted", "steps", "closed", "happened")}
        walk_one(rng, session, rng.randint(20, LONGEST), counts)
        made.append(whole(to_lines(session.events, 1), knowledge))
    return made


def whole(lines: Lines, knowledge: Knowledge) -> Lines:
    """The same lines with the knowledge in the first one, where a forger can change it."""
    inside = {**lines[0].data, "knowledge": knowledge.model_dump(mode="json")}
    return [replace(lines[0], data=inside), *lines[1:]]


def demos() -> list[Lines]:
    """The recorded sessions."""
    return [list(whole_lines(path)) for path in sorted(demos_folder().glob("*.jsonl"))]


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
    started = job.events[0]
    assert isinstance(started, SessionStarted)
    ledger = Ledger(started.knowledge)
    for event in job.events[:trace_ends]:
        ledger.see(event)
    ledger.end_all("said before the session was taken up")
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
    # Isolated does for whatever takes no voltage.
    isolated = known is not None and not known.takes_voltage and step.state.startswith("isolated")
    declared = known is None or step.kind != "check" or known.state == step.state or isolated
    assert declared, f"{step.check} is made in {step.state}"
    if target and step.kind in AT_THE_VEHICLE:
        came_to["running" if target.engine == "running" else "hands-in"] += 1


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


def nothing_found(_events: Sequence[Event], _path: Path) -> None:
    """Take every trace for one that this program wrote."""


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
    parser.add_argument("--blind", action="store_true", help="without the walk that refuses unsafe traces")
    parser.add_argument("--demos", action="store_true", help="forge the recorded sessions too")
    options = parser.parse_args()
    began = time.monotonic()
    knowledge = short() if options.world == "short" else shipped()
    try:
        with patch("triage.app.resuming.refuse_unsafe", nothing_found) if options.blind else nullcontext():
            counts = craft(knowledge, options.traces, options.seed, with_demos=options.demos)
    except AssertionError as error:
        print(f"seed {options.seed}: {error}")
        return 1
    print(table(counts))
    print(f"\nseed {options.seed}: {options.traces} traces in {time.monotonic() - began:.0f} s, nothing wrong")
    return 0


if __name__ == "__main__":
    sys.exit(main())
