"""The knowledge that a walk goes over: as shipped, as a careless author or shop would have it, grown, and small."""

import random
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Confirmation, Figure, Knowledge, Tree, VehicleState
from triage.knowledge.shipped import trees_folder
from triage.reasoning.route.growing import grow
from triage.reasoning.route.grown_tree import left_out, tree_of
from triage.reasoning.route.routing import RoutePlanner
from triage.record.weights import Weights

SMALL = Path(__file__).resolve().parents[1] / "session" / "small"
GROWN: tuple[tuple[str, frozenset[str]], ...] = (
    ("shutdown-buzz", frozenset[str]()),
    ("low-charge", frozenset({"clamp-ammeter"})),
    ("belt-chirp", frozenset()),
)
"""Symptoms whose trees are grown, and the tools that are not at hand then."""
CHANGES = 8
"""How often somebody tries to weaken an interlock."""
Floor = Callable[[Knowledge], list[str]]


@cache
def shipped() -> Knowledge:
    """The knowledge that comes with the program."""
    return load_knowledge(trees_folder())


@cache
def small() -> Knowledge:
    """The small test world, with few confirmations, one of each kind."""
    return load_knowledge(SMALL)


@cache
def short() -> Knowledge:
    """The trees of the small test world under the shipped interlocks: they keep the floor, and are quickly walked."""
    knowledge = small().under(shipped().interlocks)
    return knowledge.model_copy(update={"sources": {**shipped().sources, **knowledge.sources}})


def careless(knowledge: Knowledge) -> Knowledge:
    """The same knowledge by an author who lets every tree go on as if nothing kept the engine from running."""
    trees = {}
    for tree_id, tree in knowledge.trees.items():
        nodes = {}
        for node_id, node in tree.nodes.items():
            check = knowledge.checks.get(node.check or "")
            outcomes = check.outcomes if check else ()
            onward = node.next.get(outcomes[0].id, "") if outcomes else ""
            opened = {outcome.id: onward for outcome in outcomes if outcome.closes_running or outcome.says_nothing}
            way = {"cannot": onward} if node.cannot and any(outcome.closes_running for outcome in outcomes) else {}
            nodes[node_id] = node.model_copy(update={"next": {**node.next, **opened}, **way})
        trees[tree_id] = tree.model_copy(update={"nodes": nodes})
    return knowledge.model_copy(update={"trees": trees})


@cache
def grown() -> Knowledge:
    """The shipped knowledge with trees out of the numbers alone, some of them without a tool; takes a minute."""
    trees = {symptom: _grown(shipped(), symptom, without) for symptom, without in GROWN}
    return shipped().model_copy(update={"trees": trees})


def _grown(knowledge: Knowledge, symptom: str, without: frozenset[str]) -> Tree:
    lacking = {check.id for check in knowledge.checks.values() if without & set(check.tools)}
    planner = RoutePlanner(knowledge, symptom, "unknown", Weights(), left_out(knowledge, symptom) | lacking)
    return tree_of(planner, grow(planner, lambda _checks, _ended: None))


def weakened(knowledge: Knowledge, rng: random.Random, floor: Floor) -> Knowledge:
    """The same knowledge by a shop that asks for as little as the program lets it.

    Args:
        knowledge: what it begins with.
        rng: what it thinks of.
        floor: what a knowledge lacks; a change that lacks anything is not made.
    """
    for _ in range(CHANGES):
        changed = _changed(knowledge, rng)
        if not floor(changed):
            knowledge = changed
    return knowledge


def _changed(knowledge: Knowledge, rng: random.Random) -> Knowledge:
    state = knowledge.states[rng.choice(list(knowledge.states))]
    thing = knowledge.confirmations[rng.choice(list(knowledge.confirmations))]
    if rng.random() < 0.5:
        other = state.model_copy(update=_other_state(state, rng))
        return knowledge.model_copy(update={"states": {**knowledge.states, state.id: other}})
    another = thing.model_copy(update=_other_thing(thing, rng))
    return knowledge.model_copy(update={"confirmations": {**knowledge.confirmations, thing.id: another}})


def _other_state(state: VehicleState, rng: random.Random) -> dict[str, Any]:
    def lasting(text: str) -> Any:
        return Figure(text=text, source="from-memory")

    dropped = rng.choice(state.confirmations)
    shuffled = rng.sample(state.confirmations, len(state.confirmations))
    changes: list[dict[str, Any]] = [
        {"longest": state.longest and lasting(rng.choice(["8 s", "10 min", "2 h"]))},
        {"confirmations": tuple(one for one in state.confirmations if one != dropped)},
        {"confirmations": tuple(shuffled)},
        {"runs": rng.choice([1, 2, 9, None])},
        {"run_limit": state.run_limit and lasting(rng.choice(["10 s", "30 s", "5 min"]))},
        {"cold_after": state.cold_after and lasting(rng.choice(["5 s", "2 h", "4 h"]))},
    ]
    return rng.choice(changes)


def _other_thing(thing: Confirmation, rng: random.Random) -> dict[str, Any]:
    others: list[tuple[str, ...]] = [(), ("everyone-out", "at-the-key"), ("key-kept", "start-tried"), ("belt-on",)]
    changes: list[dict[str, Any]] = [
        {"arrives_so": not thing.arrives_so},
        {"ended_by": rng.choice([(), ("stop",), ("hands-in", "joined")])},
        {"instead_of": rng.choice(others)},
        {"proof": rng.choice(["", "name", "word", "dead"])},
        {"after": rng.choice([{}, {"belt": "removed"}, {"battery": "isolated"}])},
    ]
    return rng.choice(changes)
