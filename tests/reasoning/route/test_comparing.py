"""Trees weighed: by hand, against every combination of causes and signs, and drawn ways against all of them."""

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Mapping
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge, Node, Tree
from triage.knowledge.scales import BASE_RATES, STRENGTHS
from triage.knowledge.shipped import trees_folder
from triage.knowledge.walk import walk
from triage.reasoning.advice.changeover import Arrived, Minutes, Standing, standing_after
from triage.reasoning.route.comparing import Appraisal, appraise, routes_of
from triage.record.weights import FOR_NOTHING_MIN, LEFT_IN_MIN, Weights

SYMPTOM = "noise"
PULLEY = "solid"
LEAK = STRENGTHS["rarely"]
Strengths = Mapping[str, Mapping[str, str]]


def check(name: str, state: str, minutes: float, *signs: str) -> Check:
    """A look for signs in this order; each outcome has the name of its sign."""
    outcomes = ({"id": "normal", "words": "-"}, *({"id": sign, "words": "-", "sign": sign} for sign in signs))
    told = {"id": name, "name": name, "way": "look", "question": "?", "why": "-", "minutes": minutes, "state": state}
    return Check.model_validate({**told, "outcomes": outcomes})


CHECKS = (check("a-first", "stopped", 3, "a", "b"), check("b-alone", "running", 5, "b"), check("c", "stopped", 7, "c"))


def world(commonness: Mapping[str, str], signs: Strengths, nodes: Mapping[str, Node]) -> Knowledge:
    """Causes by how common they are, signs by what produces them how strongly, and a tree."""
    told: dict[str, dict[str, object]] = {name: {} for name in Knowledge.model_fields}
    for cause, word in commonness.items():
        told["causes"][cause] = {
            "id": cause, "name": cause, "part": "-", "meaning": "-", "commonness": word, "remedy": "renew",
        }  # fmt: skip
    for sign, by in signs.items():
        produced = {cause: {"present": word} for cause, word in by.items()}
        told["signs"][sign] = {"id": sign, "name": sign, "produced_by": produced}
    for engine in ("stopped", "running"):
        told["states"][engine] = {
            "id": engine, "words": "-", "engine": engine, "belt": "fitted", "battery": "connected",
            "near": "outside-bay", "confirmations": (), "lives": {"text": "5 min", "source": "us"},
        }  # fmt: skip
    told["checks"] = {one.id: one for one in CHECKS}
    tree = {"symptom": SYMPTOM, "name": "-", "phrases": (), "repeat": "c", "start": "start", "nodes": nodes}
    return Knowledge.model_validate({**told, "trees": {SYMPTOM: Tree.model_validate(tree)}})


def weighed(knowledge: Knowledge, floor: float = 0.0) -> Appraisal:
    return appraise(knowledge, SYMPTOM, routes_of(knowledge, knowledge.trees[SYMPTOM], [PULLEY]), Weights(), floor)


ONE_CAUSE = {"worn": "common"}
ONE_SIGN = {SYMPTOM: {"worn": "often"}, "a": {"worn": "usually"}, "b": {}, "c": {}}
ONE_LOOK = {
    "start": Node(check="a-first", next={"normal": "quiet", "a": "worn", "b": "open"}, cannot="quiet"),
    "worn": Node(conclude=("worn",)),
    "open": Node(end="undecided"),
    "quiet": Node(end="not-reproduced"),
}


def test_a_tree_of_one_check_is_weighed_as_by_hand() -> None:
    heard = 1 - 0.9 * (1 - LEAK) - 0.1 * (1 - 0.5) * (1 - LEAK)
    made = 0.1 * 0.5 / heard
    seen_and_made = made * (1 - 0.2 * (1 - LEAK))
    there = 0.1 * (1 - 0.5 * (1 - LEAK)) / heard
    seen = there * (1 - 0.2 * (1 - LEAK)) + (1 - there) * LEAK
    found = weighed(world(ONE_CAUSE, ONE_SIGN, ONE_LOOK))
    assert found.minutes.value == pytest.approx(3.0)
    assert found.named.value == pytest.approx(seen)
    assert found.right.value == pytest.approx(seen_and_made / seen)
    # Worn made it, and so did something that is not listed: its complaint stays though it was put right.
    both = LEAK * seen_and_made
    named = (seen - seen_and_made) * (FOR_NOTHING_MIN + LEFT_IN_MIN) + both * LEFT_IN_MIN
    # Nothing else is said of b, so it is there or not by its leak alone; undecided, worn hardly made it.
    quiet = (1 - seen) * LEFT_IN_MIN
    probability = (made - seen_and_made) / (1 - seen)
    put_right = (1 - probability) * FOR_NOTHING_MIN + (1 - probability * (1 - LEAK)) * LEFT_IN_MIN
    undecided = LEAK * (1 - seen) * (min(LEFT_IN_MIN, put_right) - LEFT_IN_MIN)
    assert found.loss.value == pytest.approx(named + quiet + undecided)
    assert found.causes["worn"].there == pytest.approx(made)
    share = seen_and_made + LEAK * (made - seen_and_made) * (put_right < LEFT_IN_MIN)
    assert found.causes["worn"].named == pytest.approx(share / made)
    assert (found.missed, found.drawn, found.minutes.within) == ("worn", 0.0, 0.0)


def test_a_cause_that_the_vehicle_cannot_have_is_named_and_renewed_for_nothing() -> None:
    knowledge = world({"worn": "common", "spring": "common"}, ONE_SIGN, {"start": Node(conclude=("spring",))})
    spring = knowledge.causes["spring"].model_copy(update={"only_for": ("decoupler",)})
    lacking = knowledge.model_copy(update={"causes": {**knowledge.causes, "spring": spring}})
    found = weighed(lacking)
    assert (found.named.value, found.right.value) == (1.0, 0.0)
    assert set(found.causes) == {"worn"}
    assert found.loss.value == pytest.approx(FOR_NOTHING_MIN + LEFT_IN_MIN)


COMMONNESS = st.sampled_from(sorted(BASE_RATES))
STRENGTH = st.sampled_from(["nearly-always", "usually", "often", "sometimes", "seldom"])
CAUSES = ("x", "y", "z")
ENDS = [
    *(Node(conclude=one) for one in [("x",), ("y",), ("z",), ("x", "y")]),
    *(Node(end=one) for one in ("undecided", "not-reproduced", "not-from-drive")),
]


@st.composite
def worlds(draw: st.DrawFn) -> Knowledge:
    commonness = {cause: draw(COMMONNESS) for cause in CAUSES}
    produced = st.dictionaries(st.sampled_from(CAUSES), STRENGTH)
    signs = {sign: draw(produced) for sign in ("a", "b", "c")}
    nodes: dict[str, Node] = {}

    def grown(left: tuple[Check, ...]) -> str:
        name = f"n{len(nodes)}" if nodes else "start"
        nodes[name] = draw(st.sampled_from(ENDS))
        if left and (name == "start" or draw(st.booleans())):
            made = draw(st.sampled_from(left))
            rest = tuple(one for one in left if one is not made)
            ways = {outcome.id: grown(rest) for outcome in made.outcomes}
            nodes[name] = Node(check=made.id, next=ways, cannot=ways["normal"])
        return name

    grown(CHECKS)
    symptom = draw(st.dictionaries(st.sampled_from(CAUSES), STRENGTH, min_size=1))
    return world(commonness, {SYMPTOM: symptom, **signs}, nodes)


World = tuple[frozenset[str], Mapping[str, bool], float]
NOT_LISTED = "the leak"


def every_vehicle(knowledge: Knowledge) -> list[World]:
    """Every combination of what made the complaint and of signs, with its probability."""
    found: dict[tuple[frozenset[str], tuple[bool, ...]], float] = defaultdict(float)
    others = [sign for sign in knowledge.signs if sign != SYMPTOM]
    for flags in itertools.product((False, True), repeat=len(CAUSES)):
        present = frozenset(cause for cause, flag in zip(CAUSES, flags, strict=True) if flag)
        rates = (BASE_RATES[knowledge.causes[cause].commonness] for cause in CAUSES)
        weight = math.prod(rate if flag else 1 - rate for rate, flag in zip(rates, flags, strict=True))
        for shown in itertools.product((False, True), repeat=len(others)):
            chance = weight
            for sign, level in zip(others, shown, strict=True):
                by = knowledge.signs[sign].produced_by
                absent = (1 - LEAK) * math.prod(1 - STRENGTHS[by[one]["present"]] for one in present if one in by)
                chance *= 1 - absent if level else absent
            for made, how_likely in makers(knowledge, present):
                found[made, shown] += chance * how_likely
    total = sum(found.values())
    return [
        (made, {**dict(zip(others, shown, strict=True)), SYMPTOM: True}, chance / total)
        for (made, shown), chance in found.items()
    ]


def makers(knowledge: Knowledge, present: frozenset[str]) -> list[tuple[frozenset[str], float]]:
    """Who made the complaint of a vehicle with these faults, alone or together, and how likely."""
    by = knowledge.signs[SYMPTOM].produced_by
    pushes = {**{one: STRENGTHS[by[one]["present"]] for one in sorted(present) if one in by}, NOT_LISTED: LEAK}
    every = []
    for flags in itertools.product((False, True), repeat=len(pushes)):
        chance = math.prod(push if flag else 1 - push for push, flag in zip(pushes.values(), flags, strict=True))
        every.append((frozenset(one for one, flag in zip(pushes, flags, strict=True) if flag), chance))
    return [one for one in every if one[0]]


def walked(knowledge: Knowledge, levels: Mapping[str, bool]) -> tuple[Node, tuple[tuple[str, str], ...], float]:
    findings: dict[str, str] = {}
    spent, standing = 0.0, Arrived()
    stood: Standing = standing
    while True:
        told = {name: (outcome,) for name, outcome in findings.items()}
        node = walk(knowledge, knowledge.trees[SYMPTOM], told, PULLEY).node
        if node.check is None:
            return node, tuple(findings.items()), spent
        made = knowledge.checks[node.check]
        spent += Minutes().of(knowledge, made, stood)
        stood = standing_after(knowledge, made, stood)
        findings[made.id] = next((one.id for one in made.outcomes if one.sign and levels[one.sign]), "normal")


Group = list[tuple[frozenset[str], float]]


def loss(group: Group, named: tuple[str, ...]) -> float:
    """Loss of vehicles with the same findings: work for nothing, and a complaint that something else made too."""
    return sum(
        chance * (FOR_NOTHING_MIN * len(set(named) - made) + LEFT_IN_MIN * bool(made - set(named)))
        for made, chance in group
    )


def least_loss(knowledge: Knowledge, group: Group) -> float:
    return min(loss(group, end) for end in [(), *((one,) for one in knowledge.signs[SYMPTOM].produced_by)])


@settings(max_examples=60, deadline=None)
@given(worlds())
def test_every_figure_agrees_with_adding_up_all_vehicles(knowledge: Knowledge) -> None:
    vehicles = [(made, chance, *walked(knowledge, levels)) for made, levels, chance in every_vehicle(knowledge)]
    ends = {findings: node for _, _, node, findings, _ in vehicles}
    groups: dict[tuple[tuple[str, str], ...], Group] = defaultdict(list)
    for made, chance, _, findings, _ in vehicles:
        groups[findings].append((made, chance))

    def mean(of: Callable[[frozenset[str], Node], float]) -> float:
        return sum(chance * of(made, node) for made, chance, node, _, _ in vehicles)

    found = weighed(knowledge)
    assert found.minutes.value == pytest.approx(sum(chance * minutes for _, chance, _, _, minutes in vehicles))
    lost = 0.0
    for findings, group in groups.items():
        undecided = ends[findings].end == "undecided"
        lost += least_loss(knowledge, group) if undecided else loss(group, ends[findings].conclude)
    named = mean(lambda _, node: bool(node.conclude))
    assert found.loss.value == pytest.approx(lost, abs=1e-7)
    assert found.named.value == pytest.approx(named)
    right = mean(lambda made, node: bool(made & set(node.conclude)))
    assert found.right.value * named == pytest.approx(right, abs=1e-9)
    by_cause = {
        cause: sum(chance * minutes for made, chance, *_, minutes in vehicles if cause in made)
        / sum(chance for made, chance, *_ in vehicles if cause in made)
        for cause in knowledge.signs[SYMPTOM].produced_by
    }
    assert {cause: fate.minutes for cause, fate in found.causes.items()} == pytest.approx(by_cause)
    assert by_cause[found.slowest] == pytest.approx(max(by_cause.values()))
    assert found.together.value == pytest.approx(found.minutes.value + found.loss.value)
    assert found.least_loss.value <= lost + 1e-7


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


@pytest.mark.parametrize("floor", [0.02, 0.005, 0.001])
def test_drawn_ways_come_within_their_interval_of_all_ways(floor: float) -> None:
    # Without rounds: where each way goes through all of one, nobody can follow every way.
    apart = shipped().model_copy(update={"rounds": {}})
    routes = routes_of(apart, apart.trees["belt-thrown"], [PULLEY])
    every, drawn = (appraise(apart, "belt-thrown", routes, Weights(), one) for one in (1e-6, floor))
    assert every.drawn < 2e-3
    assert drawn.drawn > every.drawn
    for name in ("minutes", "loss", "together", "named", "right"):
        one, other = getattr(every, name), getattr(drawn, name)
        assert other.within > 0.0
        assert abs(one.value - other.value) < 1.5 * (other.within + one.within), name
