"""The least that any folder, and any trace, has to confirm before somebody is let near the drive: held in the program.

Interlocks are written in YAML, by people who may be wrong; a trace brings its own. Whatever they say, this much holds.
It is told by hazard and not by the name of a confirmation, so that confirmations can be put together in other ways.
The longest times are those of the shipped interlocks: our own judgement, from memory.
"""

from collections.abc import Iterator
from types import MappingProxyType

from triage.errors import QuantityRefused
from triage.knowledge.models import Confirmation, Figure, Knowledge, VehicleState
from triage.units import parse_quantity

EVERYWHERE = ("rolling-away", "vehicle-falling", "drawn-in", "thrown-parts", "unexpected-start", "fire")
HANDS_IN = ("burns",)
ISOLATED = ("battery-short",)
RUNNING = ("carbon-monoxide",)
WITHOUT_BELT = ("overheating",)
ONCE = ("fire",)
"""What may be asked once for a vehicle; everything else can change while it is worked on."""
CARRIED = ("rolling-away",)
"""What may go along from one stopped state into the next."""
SHORTEST_S = 60.0
LONGEST_S = MappingProxyType({"stopped": 3600.0, "running": 900.0, "running without its belt": 300.0})
LONGEST_RUN_S, MOST_RUNS, SHORTEST_COOLING_S = 30.0, 2, 7200.0
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
    "charging-ripple",
    "charging-circuit",
    "idle-quality",
)
"""Checks that nobody can make on a standing engine, whatever a folder calls their vehicle state."""


def shortfalls(knowledge: Knowledge) -> tuple[str, ...]:
    """Everything in which interlocks and checks fall short of the floor, a sentence each; none where they keep it."""
    found = [sentence for state in knowledge.states.values() for sentence in _of_state(knowledge, state)]
    return (*found, *_of_checks(knowledge))


def _of_state(knowledge: Knowledge, state: VehicleState) -> Iterator[str]:
    things = [knowledge.confirmations[one] for one in state.confirmations if one in knowledge.confirmations]
    covered = {thing.hazard for thing in things if _always(thing)}
    for hazard in _least(state):
        if hazard not in covered:
            yield f"The vehicle state {state.id} asks for nothing against {hazard}, unconditionally and each time."
    if state.engine == "running" and not any(thing.names and _always(thing) for thing in things):
        yield f"The vehicle state {state.id} names nobody at the key."
    if state.engine == "running" and state.near == "hands-in":
        yield f"The vehicle state {state.id} lets hands in while the engine runs."
    for thing in things:
        if thing.carries and thing.hazard not in CARRIED:
            yield f"The confirmation {thing.id} may not go along into another state: it changes with the work."
    yield from _put_together(knowledge, state, things)
    yield from _of_times(state)


def _always(thing: Confirmation) -> bool:
    return not thing.after and (not thing.once or thing.hazard in ONCE)


def _least(state: VehicleState) -> tuple[str, ...]:
    near = RUNNING if state.engine == "running" else HANDS_IN
    isolated = ISOLATED if state.battery == "isolated" else ()
    return (*EVERYWHERE, *near, *isolated, *(WITHOUT_BELT if _without_belt(state) else ()))


def _without_belt(state: VehicleState) -> bool:
    return state.engine == "running" and state.belt == "removed"


def _put_together(knowledge: Knowledge, state: VehicleState, things: list[Confirmation]) -> Iterator[str]:
    """What a vehicle that was apart is asked when it is put together again."""
    for what, now, was in (("battery", "connected", "isolated"), ("belt", "fitted", "removed")):
        apart = any(getattr(other, what) == was for other in knowledge.states.values())
        asked = any(thing.after == {what: was} for thing in things)
        if getattr(state, what) == now and apart and not asked:
            yield f"The vehicle state {state.id} does not ask whether the {what} is {now} after it was {was}."


def _of_times(state: VehicleState) -> Iterator[str]:
    kind = "running without its belt" if _without_belt(state) else state.engine
    if not SHORTEST_S <= _seconds(state.lives) <= LONGEST_S[kind]:
        allowed = f"1 min to {LONGEST_S[kind] / 60:.0f} min"
        yield f"In the vehicle state {state.id} a confirmation lives {state.lives.text}; {allowed} is allowed."
    if not _without_belt(state):
        return
    if not 0 < _seconds(state.run_limit) <= LONGEST_RUN_S:
        yield f"A run without the belt in {state.id} has no limit of 30 s or less."
    if not 1 <= (state.runs or 0) <= MOST_RUNS:
        yield f"The vehicle state {state.id} does not limit its runs without the belt to {MOST_RUNS}."
    if _seconds(state.cold_after) < SHORTEST_COOLING_S:
        yield f"The vehicle state {state.id} does not wait 2 h for a cold engine."


def _seconds(figure: Figure | None) -> float:
    try:
        return parse_quantity(figure.text, "time").value if figure else 0.0
    except QuantityRefused:
        return 0.0


def _of_checks(knowledge: Knowledge) -> Iterator[str]:
    for check in knowledge.checks.values():
        state = knowledge.states.get(check.state)
        if check.id in ENGINE_RUNS and (state is None or state.engine != "running"):
            yield f"The check {check.id} is made with the engine running, and is not declared so."
        if state is None and check.way != "ask":
            yield f"The check {check.id} goes to the vehicle and declares no vehicle state."
        if check.set_up and getattr(knowledge.states.get(check.set_up.state), "near", "") != "hands-in":
            yield f"The check {check.id} is set up by hand, and not in a state that lets hands in."
    for remedy in knowledge.remedies.values():
        if getattr(knowledge.states.get(remedy.state), "near", "") != "hands-in":
            yield f"The remedy {remedy.id} is not done in a state that lets hands in."
