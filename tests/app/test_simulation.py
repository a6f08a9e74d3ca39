"""Simulated vehicles: the script behind docs/made/simulation.md, in small."""

import math
import random
import statistics
from collections.abc import Mapping
from functools import cache

import make_simulation
import pytest

from triage.app.advising.advice import ranking_now
from triage.app.cases import NOTHING_WRONG, Case, walk_case
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.inference.network import network_of
from triage.reasoning.route.comparing import appraise, routes_of
from triage.record.weights import Weights

VEHICLES = 150


def telling(findings: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """What says something; a session asks of what could not be made later than a simulated vehicle does."""
    return {check: outcomes for check, outcomes in findings.items() if outcomes and check != "complaint-now"}


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


@pytest.mark.parametrize("symptom", sorted(shipped().trees))
def test_a_simulated_vehicle_comes_to_what_a_session_with_its_answers_comes_to(symptom: str) -> None:
    simulation, knowledge, chance = make_simulation, shipped(), random.Random(symptom)
    for pulley in chance.sample(PULLEYS, 2):
        _, signs = simulation.vehicle(network_of(knowledge, pulley), symptom, chance)
        node, findings, _ = simulation.walked(knowledge, symptom, signs, pulley)
        told = {check: list(outcomes) for check, outcomes in findings.items()}
        case = {"id": "one", "symptom": symptom, "vehicle": {"specified_pulley": pulley}, "findings": told}
        walked, job = walk_case(knowledge, Case.model_validate(case), accuracies(knowledge, Shop()))
        assert walked.concluded == (node.conclude or ((NOTHING_WRONG,) if node.end == NOTHING_WRONG else ()))
        assert set(walked.checks) <= set(findings)
        # Whether it is there now is asked beside the engine, and no simulated vehicle comes and goes.
        found = {check: one.outcomes for check, one in job.state.findings.items()}
        assert telling(found) == telling(findings)
        stated = simulation.stated(knowledge, symptom, findings, pulley, network_of(knowledge, pulley))
        assert dict(ranking_now(knowledge, job.state)) == pytest.approx(stated, abs=1e-4)


@pytest.mark.parametrize("disturb", [False, True])
def test_the_likeliest_cause_is_mostly_right_and_stated_probabilities_come_true(disturb: bool) -> None:
    tally = make_simulation.tallied(shipped(), "belt-thrown", VEHICLES, disturb=disturb)
    assert tally.first > 0.6 * tally.listed
    assert tally.three > 0.8 * tally.listed
    stated = sum(probability for probability, _ in tally.stated)
    there = sum(so for _, so in tally.stated)
    # Four standard deviations; with every strength wrong by 30 % in odds the mean may be off as well.
    off = 4 * math.sqrt(sum(probability * (1 - probability) for probability, _ in tally.stated))
    assert abs(stated - there) < off + (0.15 * there if disturb else 0.0)


@pytest.mark.parametrize("symptom", ["belt-thrown", "tensioner-flutter"])
def test_the_minutes_of_simulated_vehicles_are_those_that_weighing_the_tree_gives(symptom: str) -> None:
    simulation, knowledge, chance, pulley = make_simulation, shipped(), random.Random(symptom), "solid"
    network, tree = network_of(knowledge, pulley), knowledge.trees[symptom]
    vehicles = [simulation.vehicle(network, symptom, chance) for _ in range(VEHICLES)]
    walks = [simulation.walked(knowledge, symptom, signs, pulley) for _, signs in vehicles]
    minutes = [spent for *_, spent in walks]
    weighed = appraise(knowledge, symptom, routes_of(knowledge, tree, [pulley]), Weights(), 2e-3)
    standard_error = statistics.stdev(minutes) / math.sqrt(VEHICLES)
    assert abs(statistics.mean(minutes) - weighed.minutes.value) < 4 * standard_error
    right = [bool(made & set(node.conclude)) for (made, _), (node, *_) in zip(vehicles, walks, strict=True)]
    assert abs(statistics.mean(right) - weighed.right.value * weighed.named.value) < 4 * math.sqrt(0.25 / VEHICLES)


def test_each_row_says_how_often_the_ranking_was_right() -> None:
    tally = make_simulation.Tally(
        listed=4, first=2, three=3, concluded=2, right=1, minutes=[8.0, 12.0], stated=[(0.5, True)]
    )
    assert make_simulation.row("buzz", "as assumed", tally, 5) == (
        "| buzz | as assumed | 80.0 % | 50.0 (15.0 to 85.0) % | 75.0 (30.1 to 95.4) % | 50.0 (9.5 to 90.5) % "
        "| 10.0 ± 2.5 | 0.2500 |"
    )


def test_an_interval_holds_the_shares_that_its_count_lies_within_two_deviations_of() -> None:
    # Wilson's interval is where the share that was seen lies just 1.96 standard deviations off.
    low, high = (
        float(bound) / 100 for bound in make_simulation.interval(81, 263).split("(")[1].rstrip(" )%").split(" to ")
    )
    for bound in (low, high):
        assert abs(81 / 263 - bound) / math.sqrt(bound * (1 - bound) / 263) == pytest.approx(1.96, abs=0.03)
