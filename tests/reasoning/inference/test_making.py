"""Which cause made the complaint: against every combination of what is there and what pushed, counted by hand."""

import itertools
import math
from collections.abc import Iterator

import numpy as np
import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.advice.stakes import staked
from triage.reasoning.inference.evidence import Alternative, Evidence, Found, evidence_of
from triage.reasoning.inference.making import Belief, believed
from triage.reasoning.inference.network import Network, network_of
from triage.record.weights import Weights

RATES = (0.1, 0.3, 0.05)
PUSHES = (0.8, 0.2, 0.5, 0.01)
"""How probably each cause makes the complaint, the leak last."""
SHOWS = (0.5, 0.9, 0.0, 0.02)
"""The same for a sign that was seen."""
SEEN: Evidence = (Alternative(1.0, {"noise": (0.0, 1.0), "mark": (0.0, 1.0)}),)
Vehicle = tuple[float, tuple[int, ...], tuple[int, ...]]


def small() -> Network:
    columns = {sign: np.array([[1 - p for p in row], row]) for sign, row in (("noise", PUSHES), ("mark", SHOWS))}
    return Network(("a", "b", "c"), np.array([*RATES, 1.0]), columns)


def vehicles() -> Iterator[Vehicle]:
    """Every vehicle with the complaint and the mark: its probability, what is there, what pushed (the leak is 3)."""
    for there in itertools.product((0, 1), repeat=3):
        for pushed in itertools.product((0, 1), repeat=4):
            if not any(pushed) or any(push and not is_there for push, is_there in zip(pushed, there, strict=False)):
                continue
            chance = math.prod(rate if one else 1 - rate for rate, one in zip(RATES, there, strict=True))
            every = [*there, 1]
            for strength, push, one in zip(PUSHES, pushed, every, strict=True):
                chance *= (strength if push else 1 - strength) if one else 1.0
            chance *= 1 - math.prod(1 - show for show, one in zip(SHOWS, every, strict=True) if one)
            yield chance, there, tuple(at for at, push in enumerate(pushed) if push)


def share(*, made: int | None = None, present: int | None = None, outside: set[int] | None = None) -> float:
    """Share of these vehicles where a cause made it, is there, or where something outside a set made it."""
    counted = total = 0.0
    for chance, there, pushed in vehicles():
        total += chance
        so = made in pushed if made is not None else bool(there[present]) if present is not None else False
        counted += chance * (so or (outside is not None and bool(set(pushed) - outside)))
    return counted / total


def test_what_made_the_complaint_is_what_counting_every_vehicle_says() -> None:
    belief = believed(small(), "noise", SEEN)
    assert belief.made
    for at, cause in enumerate("abc"):
        assert belief.made[cause] == pytest.approx(share(made=at))
        assert belief.present[cause] == pytest.approx(share(present=at))
    assert belief.unlisted == pytest.approx(share(made=3))


@pytest.mark.parametrize("named", [(), (0,), (1,), (2,), (0, 1), (0, 1, 2)])
def test_an_end_costs_what_counting_every_vehicle_says(named: tuple[int, ...]) -> None:
    stakes = staked(small(), "noise", Weights())
    for_nothing = sum(120.0 * (1 - share(made=at)) for at in named)
    cost = stakes.cost_min(SEEN, named, stakes.summed(SEEN))
    assert cost == pytest.approx(for_nothing + 300.0 * share(outside=set(named)))


def test_a_dearer_comeback_counts_only_while_its_own_cause_is_left() -> None:
    stakes = staked(small(), "noise", Weights(left_in_by_cause={"b": 500.0}))
    for named in ((), (0,), (1,), (0, 1)):
        for_nothing = sum(120.0 * (1 - share(made=at)) for at in named)
        others = {0, 2, 3} | set(named)
        stays = 300.0 * share(outside=set(named)) + 200.0 * share(outside=others)
        assert stakes.cost_min(SEEN, named, stakes.summed(SEEN)) == pytest.approx(for_nothing + stays)


def test_without_a_complaint_being_there_decides() -> None:
    told: Evidence = (Alternative(1.0, {"mark": (0.0, 1.0)}),)
    belief = believed(small(), "nothing-of-the-kind", told)
    assert belief.made is None
    assert belief.unlisted is None
    assert belief.deciding == belief.present
    stakes = staked(small(), "nothing-of-the-kind", Weights())
    some = 1 - math.prod(1 - rate for rate in RATES)
    nothing: Evidence = (Alternative(1.0, {}),)
    assert stakes.cost_min(nothing, (), stakes.summed(nothing)) == pytest.approx(300.0 * some)


def test_findings_that_contradict_each_other_leave_nothing() -> None:
    belief = believed(small(), "noise", ())
    assert (belief.chance, belief.present) == (0.0, {})


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge(trees_folder())


def after(knowledge: Knowledge, symptom: str, **findings: str) -> Belief:
    told = [Found(check.replace("_", "-"), (outcome,)) for check, outcome in findings.items()]
    evidence = evidence_of(knowledge, symptom, told, "decoupler")
    return believed(network_of(knowledge, "decoupler"), symptom, evidence)


def test_a_rough_idler_is_there_and_seldom_takes_the_charge(knowledge: Knowledge) -> None:
    belief = after(knowledge, "low-charge", spin_idler="rough")
    assert belief.made
    assert belief.present["idler-bearing-worn"] > 0.9
    assert belief.made["idler-bearing-worn"] < 0.2
    assert max(belief.made, key=belief.made.__getitem__) == "battery-failed"


def test_nothing_makes_a_complaint_more_often_than_it_is_there(knowledge: Knowledge) -> None:
    for symptom in knowledge.trees:
        belief = after(knowledge, symptom, spin_idler="rough")
        assert belief.made
        assert all(made <= belief.present[cause] + 1e-12 for cause, made in belief.made.items())
