"""The least that any folder, and any trace, has to confirm before somebody is let near the drive: held in the program.

Interlocks are written in YAML, by people who may be wrong; a trace brings its own. Whatever they say, this much holds:
which groups each kind of state asks for, against which hazards, and how long an engine may run. What ends each group
stands in `triage.knowledge.groups`, where no folder reaches it. Hazards and groups are told by their names, and lines
are not, so that lines can be put together in other ways. The longest times are our own judgement, from memory.
"""

from collections.abc import Iterator
from types import MappingProxyType

from triage.errors import QuantityRefused
from triage.knowledge.groups import LASTING_S, arrives_so
from triage.knowledge.models import Check, Confirmation, Figure, Group, Knowledge, VehicleState
from triage.units import parse_quantity

EVERYWHERE: tuple[Group, ...] = ("cannot-roll", "support", "air-and-fire", "people", "starts-itself")
GROUPS: MappingProxyType[str, tuple[Group, ...]] = MappingProxyType(
    {
        "stopped": (*EVERYWHERE, "still", "key"),
        "running": (*EVERYWHERE, "bay-clear", "everyone-out", "at-the-key"),
        "isolated": ("isolated",),
        "without-belt": ("without-belt",),
    }
)
"""The least groups of each kind of state."""
HAZARDS: MappingProxyType[str, tuple[str, ...]] = MappingProxyType(
    {
        "stopped": ("rolling-away", "vehicle-falling", "drawn-in", "thrown-parts", "unexpected-start", "fire", "burns"),
        "running": (
            "rolling-away",
            "vehicle-falling",
            "drawn-in",
            "thrown-parts",
            "unexpected-start",
            "fire",
            "carbon-monoxide",
        ),
        "isolated": ("battery-short",),
        "without-belt": ("overheating",),
    }
)
"""The least hazards that each kind of state asks about, unconditionally."""
START_TRIED = "start-tried"
"""The line that every state with hands in and the battery connected asks for; it is tried, not believed."""
MOST_THINGS = 3
SECONDS_OF_A_RUN, MOST_RUNS, SHORTEST_COOLING_S = 30.0, 2, 7200.0
NOT_ALONE = (
    "shutdown-listen",
    "coast-down",
    "belt-off-run",
    "water-mist",
    "load-step",
    "snap-deceleration",
    "belt-slip",
    "clutch-slip",
    "charging-voltage",
    "charge-under-load",
    "charging-ripple",
    "charging-circuit",
    "charging-ground",
)
"""Checks with raised speed, loads, water, or without the belt: never made by somebody who is alone."""
ENGINE_RUNS = (
    "shutdown-listen",
    "coast-down",
    "bearing-listen",
    "belt-off-run",
    "water-mist",
    "arm-motion",
    "load-step",
    "snap-deceleration",
    "belt-slip",
    "clutch-slip",
    "chirp-timing",
    "charging-voltage",
    "charge-under-load",
    "charging-ripple",
    "charging-circuit",
    "charging-ground",
    "idle-quality",
    "belt-tracking",
)
"""Checks that nobody can make on a standing engine, whatever a folder calls their vehicle state."""
LOADED = (
    "shutdown-listen",
    "coast-down",
    "load-step",
    "snap-deceleration",
    "belt-slip",
    "clutch-slip",
    "charging-voltage",
    "charge-under-load",
    "charging-ripple",
    "charging-circuit",
    "charging-ground",
    "idle-quality",
    "arm-motion",
)
"""Checks at a raised speed or under load, whatever a folder says of them: the belt is seen to run true before."""


def shortfalls(knowledge: Knowledge) -> tuple[str, ...]:
    """Everything in which interlocks and checks fall short of the floor, a sentence each; none where they keep it."""
    found = [sentence for state in knowledge.states.values() for sentence in _of_state(knowledge, state)]
    listed = {line for state in knowledge.states.values() for line in state.confirmations}
    lines = [one for one in knowledge.confirmations.values() if one.id in listed or one.instead_of or one.group]
    return (*found, *(sentence for line in lines for sentence in _of_line(knowledge, line)), *_of_checks(knowledge))


def _kinds(state: VehicleState) -> Iterator[str]:
    yield state.engine
    if state.battery == "isolated":
        yield "isolated"
    if (state.engine, state.belt) == ("running", "removed"):
        yield "without-belt"


def _of_state(knowledge: Knowledge, state: VehicleState) -> Iterator[str]:
    things = [knowledge.confirmations[one] for one in state.confirmations if one in knowledge.confirmations]
    always = [thing for thing in things if not arrives_so(thing)]
    covered = {hazard for thing in always for hazard in thing.hazards}
    groups = {thing.group for thing in always}
    for kind in _kinds(state):
        for hazard in HAZARDS[kind]:
            if hazard not in covered:
                yield f"The vehicle state {state.id} asks for nothing against {hazard}, unconditionally."
        for group in GROUPS[kind]:
            if group not in groups:
                yield f"The vehicle state {state.id} asks for nothing of the group {group}, unconditionally."
    if not any(thing.group == "same-as-before" for thing in things):
        yield f"The vehicle state {state.id} does not ask after a long while whether all is as before."
    if state.engine == "running":
        yield from _of_running(state, always)
    elif state.battery == "connected" and START_TRIED not in {thing.id for thing in always}:
        yield f"The vehicle state {state.id} lets hands in without the start having been tried."
    if state.battery == "isolated" and not any(thing.proof == "dead" for thing in always):
        yield f"The vehicle state {state.id} is not proved dead."
    yield from _put_together(knowledge, state, things)


def _of_running(state: VehicleState, always: list[Confirmation]) -> Iterator[str]:
    if not any(thing.proof == "name" and thing.group == "at-the-key" for thing in always):
        yield f"The vehicle state {state.id} names nobody at the key."
    if state.near == "hands-in":
        yield f"The vehicle state {state.id} lets hands in while the engine runs."
    if state.battery != "connected":
        yield f"The vehicle state {state.id} runs an engine without its battery."
    if state.belt == "removed":
        yield from _without_belt(state)
    elif not 0 < _seconds(state.longest) <= LASTING_S["running"]:
        yield f"A run in {state.id} has no limit of 15 min or less."


def _without_belt(state: VehicleState) -> Iterator[str]:
    if not 0 < _seconds(state.run_limit) <= SECONDS_OF_A_RUN:
        yield f"A run without the belt in {state.id} has no limit of 30 s or less."
    if not 1 <= (state.runs or 0) <= MOST_RUNS:
        yield f"The vehicle state {state.id} does not limit its runs without the belt to {MOST_RUNS}."
    if _seconds(state.cold_after) < SHORTEST_COOLING_S:
        yield f"The vehicle state {state.id} does not wait 2 h for a cold engine."


def _put_together(knowledge: Knowledge, state: VehicleState, things: list[Confirmation]) -> Iterator[str]:
    """What a vehicle that was apart is asked when it is put together again."""
    apart = (("battery", "connected", "isolated", "reconnected"), ("belt", "fitted", "removed", "belt-on"))
    for what, now, was, group in apart:
        any_apart = any(getattr(other, what) == was for other in knowledge.states.values())
        if getattr(state, what) == now and any_apart and not any(thing.group == group for thing in things):
            yield f"The vehicle state {state.id} does not ask whether the {what} is {now} after it was {was}."


def _of_line(knowledge: Knowledge, line: Confirmation) -> Iterator[str]:
    if line.group is None:
        yield f"The confirmation {line.id} belongs to no group: nobody can say what ends it."
        return
    if len(line.things) > MOST_THINGS:
        yield f"The confirmation {line.id} holds more than {MOST_THINGS} things."
    may = ("reconnected", "belt-on", "leaving", "same-as-before")
    if arrives_so(line) and line.group not in may:
        yield f"The confirmation {line.id} is asked only once it was undone; its group is asked of everybody."
    proved = {"name": line.group == "at-the-key", "word": bool(line.instead_of), "dead": line.group == "isolated"}
    if not proved.get(line.proof, True):
        yield f"The confirmation {line.id} is proved in a way that does not belong to it."
    again = [knowledge.confirmations[one] for one in line.instead_of if one in knowledge.confirmations]
    if not again:
        return
    said = {thing for one in again for thing in (one.things or {one.id: ""})}
    if not said <= line.things.keys():
        yield f"The confirmation {line.id} stands for others, and does not say all that they say."
    if any(one.proof == "dead" or arrives_so(one) or one.group not in _AGAIN for one in again):
        yield f"The confirmation {line.id} stands for what has to be said by itself each time."
    if any(one.proof == "name" for one in again) != (line.proof == "word"):
        yield f"The confirmation {line.id} stands for who is at the key, and no word is called back."


_AGAIN: tuple[Group, ...] = ("key", "everyone-out", "at-the-key")


def _of_checks(knowledge: Knowledge) -> Iterator[str]:
    for check in knowledge.checks.values():
        state = knowledge.states.get(check.state)
        if check.id in ENGINE_RUNS and (state is None or state.engine != "running"):
            yield f"The check {check.id} is made with the engine running, and is not declared so."
        if state is None and check.way != "ask":
            yield f"The check {check.id} goes to the vehicle and declares no vehicle state."
        if check.set_up and getattr(knowledge.states.get(check.set_up.state), "near", "") != "hands-in":
            yield f"The check {check.id} is set up by hand, and not in a state that lets hands in."
        yield from _of_marks(check, state)
    for remedy in knowledge.remedies.values():
        if getattr(knowledge.states.get(remedy.state), "near", "") != "hands-in":
            yield f"The remedy {remedy.id} is not done in a state that lets hands in."


def _of_marks(check: Check, state: VehicleState | None) -> Iterator[str]:
    looks = state is not None and (state.engine, state.belt, state.battery) == ("stopped", "fitted", "connected")
    if check.untouched and not (looks and check.way == "look" and not check.consumes and not check.does):
        yield f"The check {check.id} is called a look from outside, and is none."
    if check.at_idle and check.id in LOADED:
        yield f"The check {check.id} takes a load or a raised speed, and is called one at idle."
    if check.from_seat and check.id in NOT_ALONE:
        yield f"The check {check.id} is not made by somebody who is alone."


def _seconds(figure: Figure | None) -> float:
    try:
        return parse_quantity(figure.text, "time").value if figure else 0.0
    except QuantityRefused:
        return 0.0
