"""Other ways to search, on the small knowledge: they come to an end, and none undercuts the bound."""

import runpy
from pathlib import Path

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.reasoning.comparing import Appraisal, appraise, routes_of
from triage.reasoning.rivals import NAMES, bound, rival
from triage.reasoning.searching import Vehicle
from triage.record.weights import Weights

SMALL = runpy.run_path(str(Path(__file__).resolve().parents[1] / "knowledge" / "conftest.py"))["SmallWorld"]
WHINE, PULLEY = "whine-driving", "decoupler"


@pytest.fixture
def knowledge(tmp_path: Path) -> Knowledge:
    return load_knowledge(SMALL(tmp_path).folder)


def weighed(knowledge: Knowledge, name: str) -> Appraisal:
    told: list[int] = []
    route = rival(knowledge, Vehicle(WHINE, PULLEY), name, Weights(), lambda checks, _: told.append(checks))
    assert told == list(range(1, len(told) + 1))
    return appraise(knowledge, WHINE, {PULLEY: route}, Weights(), 0.0)


@pytest.mark.parametrize("name", NAMES)
def test_a_rival_takes_every_vehicle_to_an_end_and_does_not_undercut_the_bound(knowledge: Knowledge, name: str) -> None:
    found = weighed(knowledge, name)
    least = bound(knowledge, WHINE, PULLEY)
    assert found.minutes.value > 0.0
    assert found.together.value > least.cost_min - 4 * least.error_min


def test_looking_ahead_costs_no_more_than_one_order_for_all_or_the_authored_tree(knowledge: Knowledge) -> None:
    grown = weighed(knowledge, "grown").together.value
    authored = routes_of(knowledge, knowledge.trees[WHINE], [PULLEY])
    assert grown <= weighed(knowledge, "fixed").together.value + 1e-9
    assert grown <= appraise(knowledge, WHINE, authored, Weights(), 0.0).together.value + 1e-9


def test_a_fixed_order_makes_its_checks_in_that_order_whatever_it_finds(knowledge: Knowledge) -> None:
    route = rival(knowledge, Vehicle(WHINE, PULLEY), "fixed", Weights(), lambda *_: None)
    order = [node.check for node in knowledge.trees[WHINE].nodes.values() if node.check]
    findings: dict[str, tuple[str, ...]] = {}
    while (check := route(findings).check) is not None:
        assert check in order
        findings[check] = (knowledge.checks[check].normal(PULLEY),)
    assert list(findings) == [check for check in order if check in findings]
