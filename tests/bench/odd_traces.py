"""Odd traces: every digest fits, and what the lines say does not. For tests of everything that reads traces."""

import contextlib
import copy
import json
import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.bench.walk_answers import sensible, wild
from tests.bench.walk_drive import OTHERS, layouts
from triage.app.advising.advice import advice
from triage.app.advising.costs import repair_advice
from triage.app.tracing import to_lines
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.knowledge.vehicle import FIRST_FACTS
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.evolving import fold
from triage.session.state import State
from triage.store import Line
from triage.store.lines import encode

if TYPE_CHECKING:
    from triage.record.events import Event

TODAY_MS = 1_767_225_600_000
MOST_EVENTS = 400
GHOST = "ghost"
ODD_TEXTS = ("", "ghost", "two\nlines", "x" * 3000, "\x1b[2J", "maker: nobody", "½ ¾", "99")
ODD_NUMBERS = (0, -1, 1e300, -1e300, 10**15)
Change = Callable[[list[Line], random.Random], list[Line] | None]


def rich_lines(knowledge: Knowledge, seed: int) -> list[Line]:
    """A session on a knowledge with as many kinds of events as a random one has, advice and costs among them."""
    rng = random.Random(seed)
    state, now_ms = State(), TODAY_MS
    events: list[Event] = []
    command: c.Command = c.Start(
        at_ms=now_ms,
        who="Ann",
        knowledge=knowledge,
        symptom=rng.choice(sorted(knowledge.trees)),
        job="J-1",
        words="It buzzes",
    )
    while len(events) < MOST_EVENTS:
        for given in (command, *_asides(knowledge, state, now_ms)):
            with contextlib.suppress(CommandRefused):
                happened = decide(knowledge, state, given)
                state, events = fold(happened, state), [*events, *happened]
        if state.closed:
            break
        now_ms += 1000
        base: c.Stamp = {"at_ms": now_ms, "who": rng.choice(("Ann", "Bo")), "clock_ms": now_ms, "boot": 1}
        make = sensible if rng.random() < 0.8 else wild
        command = make(rng, knowledge, state, base)
    first, *rest = to_lines(events, 1)
    # Format 1 holds the knowledge itself, so that it can be made odd like everything else.
    return [replace(first, data={**first.data, "format": 1, "knowledge": knowledge.model_dump(mode="json")}), *rest]


def _asides(knowledge: Knowledge, state: State, at_ms: int) -> list[c.Command]:
    """What the program or somebody may add at such a moment."""
    base: dict[str, Any] = {"at_ms": at_ms, "who": "Ann"}
    if state.concluded and not state.costs:
        return [advice(knowledge, state, at_ms), repair_advice(knowledge, state, at_ms)]
    if len(state.facts) == len(FIRST_FACTS) and state.layout is None:
        name, layout, known = layouts()[0]
        part = next(part.id for remedy in knowledge.remedies.values() for part in remedy.parts)
        return [
            c.UseLayout(**base, layout=layout, name=name, known=known),
            c.CompareRate(**base, text="12 Hz", rate_hz=12.0, uncertainty_hz=0.1),
            c.CompareDrive(**base, predictions=OTHERS),
            c.TellRenewal(**base, part=part, odometer_m=1e6),
            advice(knowledge, state, at_ms, "worth"),
        ]
    return []


def sealed(path: Path, lines: list[Line]) -> Path:
    """Write lines with numbers and digests that fit, and no marks that would not."""
    digest = ""
    with path.open("wb") as file:
        for number, line in enumerate(lines, 1):
            data = {**line.data, "head": ""} if line.data.get("head") else {**line.data}
            # Without it nothing is a trace at all.
            data |= {"format": 1} if number == 1 else {}
            raw, digest = encode(replace(line, seq=number, data=data), digest)
            file.write(raw)
    return path


def odd_traces(lines: list[Line], seed: int, count: int) -> Iterator[tuple[str, list[Line]]]:
    """So many odd variants of a trace, each with what was done to it."""
    rng = random.Random(seed)
    made = 0
    while made < count:
        change = rng.choice(CHANGES)
        found = change(copy.deepcopy(lines), rng)
        if found is not None:
            made += 1
            yield f"{change.__name__} {seed}/{made}", found


def _leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    children = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    if not children:
        yield path, value
    for key, child in children:
        yield from _leaves(child, (*path, key))


def _put(value: Any, path: tuple[Any, ...], new: Any) -> None:
    for key in path[:-1]:
        value = value[key]
    value[path[-1]] = new


def _odd(rng: random.Random, old: Any) -> Any:
    if isinstance(old, bool):
        return not old
    if isinstance(old, str):
        return rng.choice(ODD_TEXTS)
    if isinstance(old, int):
        return int(rng.choice((0, -1, 10**15, 3)))
    if isinstance(old, float):
        return float(rng.choice(ODD_NUMBERS))
    return rng.choice((None, [], GHOST, 1.0))


def a_field(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """One field of one event says something else."""
    place = rng.randrange(1, len(lines))
    data: dict[str, Any] = copy.deepcopy(dict(lines[place].data))
    leaves = [path for path, _ in _leaves(data) if path and path[0] not in ("clock_ms", "boot")]
    if not leaves:
        return None
    path = rng.choice(leaves)
    old: Any = data
    for key in path:
        old = old[key]
    _put(data, path, _odd(rng, old))
    lines[place] = replace(lines[place], data=data)
    return lines


def a_field_of_a_rare_event(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """The same, of a kind that does not stand on every second line."""
    kinds = sorted({line.kind for line in lines[1:]})
    kind = rng.choice(kinds)
    few = [line for line in lines[1:] if line.kind == kind]
    odd = rng.choice(few)
    place = lines.index(odd)
    data: dict[str, Any] = copy.deepcopy(dict(odd.data))
    leaves = [path for path, _ in _leaves(data) if path and path[0] not in ("clock_ms", "boot")]
    if not leaves:
        return None
    path = rng.choice(leaves)
    old: Any = data
    for key in path:
        old = old[key]
    _put(data, path, _odd(rng, old))
    lines[place] = replace(odd, data=data)
    return lines


def an_ending(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A trace that stops somewhere, its last step pointing at something odd."""
    lines = lines[: rng.randrange(2, len(lines))]
    steps = [place for place, line in enumerate(lines) if line.kind == "step-offered"]
    data: dict[str, Any] = copy.deepcopy(dict(lines[steps[-1]].data))
    field = rng.choice(["kind", "check", "state", "confirmation", "part", "torque", "fact", "until_ms"])
    kinds = ["check", "confirm", "held", "set-up", "blocked", "run-ready", "run", "run-over", "switch-off", "result"]
    kinds += ["conclusion", "part", "torque", "prove", "paused", "closed", "gate", "fact"]
    data["step"][field] = (
        rng.choice(kinds) if field == "kind" else rng.choice(("", GHOST)) if field != "until_ms" else 5
    )
    lines[steps[-1]] = replace(lines[steps[-1]], data=data)
    return lines[: steps[-1] + 1]


def a_line_out(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """Lines taken out."""
    first = rng.randrange(1, len(lines) - 1)
    return [*lines[:first], *lines[first + rng.choice((1, 1, 2, 9)) :]]


def lines_moved(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """Lines that stand elsewhere, or twice."""
    one, other = sorted(rng.sample(range(1, len(lines)), 2))
    if rng.random() < 0.5:
        lines[one], lines[other] = lines[other], lines[one]
        return lines
    return [*lines[:other], *lines[one:]]


def a_beginning(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """No start, or two."""
    return rng.choice([lines[1:], [lines[0], *lines], [lines[0]], lines[5:]])


def of_the_start(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """The first event, but for its knowledge."""
    data: dict[str, Any] = copy.deepcopy(dict(lines[0].data))
    leaves = [(path, old) for path, old in _leaves({k: v for k, v in data.items() if k not in ("knowledge", "format")})]
    path, old = rng.choice([one for one in leaves if one[0]])
    _put(data, path, _odd(rng, old))
    lines[0] = replace(lines[0], data=data)
    return lines


def of_the_knowledge(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """One leaf of the knowledge."""
    data: dict[str, Any] = copy.deepcopy(dict(lines[0].data))
    knowledge = data["knowledge"]
    table = rng.choice(sorted(knowledge))
    leaves = [(path, old) for path, old in _leaves(knowledge[table]) if path]
    if not leaves:
        return None
    path, old = rng.choice(leaves)
    _put(knowledge[table], path, _odd(rng, old))
    lines[0] = replace(lines[0], data=data)
    return lines


def an_item_out_of_the_knowledge(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A table emptied, or one of its items gone or under another name."""
    data: dict[str, Any] = copy.deepcopy(dict(lines[0].data))
    knowledge = data["knowledge"]
    table = rng.choice(sorted(one for one in knowledge if knowledge[one]))
    name = rng.choice(sorted(knowledge[table]))
    how = rng.choice(("empty", "gone", "renamed"))
    if how == "empty":
        knowledge[table] = {}
    elif how == "gone":
        del knowledge[table][name]
    else:
        knowledge[table][GHOST] = knowledge[table].pop(name)
    lines[0] = replace(lines[0], data=data)
    return lines


def a_list_of_the_knowledge(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A list or table deep in the knowledge emptied, or an entry of it taken out."""
    data: dict[str, Any] = copy.deepcopy(dict(lines[0].data))
    table = rng.choice(["checks", "trees", "remedies", "states", "signs", "confirmations", "causes"])
    holders: list[Any] = []
    waiting = [data["knowledge"][table]]
    while waiting:
        one = waiting.pop()
        children = list(one.values()) if isinstance(one, dict) else one
        holders += [child for child in children if isinstance(child, list | dict) and child]
        waiting += [child for child in children if isinstance(child, list | dict)]
    if not holders:
        return None
    holder = rng.choice(holders)
    if rng.random() < 0.5:
        holder.clear()
    else:
        key = rng.choice(list(holder)) if isinstance(holder, dict) else rng.randrange(len(holder))
        del holder[key]
    lines[0] = replace(lines[0], data=data)
    return lines


def a_circle(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A tree that runs in a circle."""
    text = json.dumps(dict(lines[0].data))
    data = json.loads(text)
    for tree in data["knowledge"]["trees"].values():
        node = rng.choice(sorted(tree["nodes"]))
        for way in ("cannot", "skip"):
            if tree["nodes"][node].get(way):
                tree["nodes"][node][way] = tree["start"]
        tree["nodes"][node]["next"] = dict.fromkeys(tree["nodes"][node]["next"], tree["start"])
    lines[0] = replace(lines[0], data=data)
    return lines


def a_kind(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A line of another kind or version."""
    place = rng.randrange(len(lines))
    other = rng.choice(lines).kind
    changed = (
        {"version": rng.choice((1, 3, 999))} if rng.random() < 0.3 else {"kind": rng.choice((other, "moon-landed"))}
    )
    lines[place] = replace(lines[place], **changed)
    return lines


def a_time(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A line of another time."""
    place = rng.randrange(len(lines))
    at_ms = rng.choice((-62_135_596_800_000, 0, 253_370_764_800_000, lines[place].at_ms - 10**9))
    data = {**lines[place].data, "clock_ms": rng.choice((0, -5, 10**17, lines[place].at_ms))}
    lines[place] = replace(lines[place], at_ms=at_ms, data=data if lines[place].version > 1 else lines[place].data)
    return lines


def a_name(lines: list[Line], rng: random.Random) -> list[Line] | None:
    """A line by somebody odd."""
    place = rng.randrange(len(lines))
    lines[place] = replace(lines[place], who=rng.choice(ODD_TEXTS))
    return lines


CHANGES: list[Change] = [
    a_field,
    a_field_of_a_rare_event,
    a_field_of_a_rare_event,
    an_ending,
    a_line_out,
    lines_moved,
    a_beginning,
    of_the_start,
    of_the_knowledge,
    of_the_knowledge,
    an_item_out_of_the_knowledge,
    a_list_of_the_knowledge,
    a_circle,
    a_kind,
    a_time,
    a_name,
]
