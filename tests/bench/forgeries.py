"""What a forger does to the lines of a trace, for craft_traces.py; whoever writes it seals it anew afterwards."""

import random
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from tests.bench.walk_clocks import HOUR_MS
from tests.bench.walk_ledger import AT_THE_VEHICLE
from triage.store import Line

Lines = list[Line]
YEAR_2020_MS = 1_577_836_800_000


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
    return [*lines[:to], lines[at], *lines[to:]]


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
    return [*lines[:at], replace(lines[at - 1], kind="session-paused", data=_stamp(lines[at - 1])), *lines[at:]]


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
        knowledge: dict[str, Any] = {**data["knowledge"]}  # type: ignore[dict-item]
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
