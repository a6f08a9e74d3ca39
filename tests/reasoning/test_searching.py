"""A vehicle's search in numbers, on the shipped knowledge."""

from functools import cache

import numpy as np
import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.bounding import lower_bound
from triage.reasoning.evidence import Found, complaint, together
from triage.reasoning.growing import best_check, grow, totals
from triage.reasoning.looking_ahead import most_telling
from triage.reasoning.network import network_of
from triage.reasoning.possibilities import possibilities
from triage.reasoning.posterior import posterior
from triage.reasoning.ranking import pieces_of
from triage.reasoning.searching import Vehicle, search_of
from triage.reasoning.sequencing import outlook


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


def test_the_outcomes_of_every_check_add_up_to_one_in_every_possibility() -> None:
    search = search_of(shipped(), Vehicle("shutdown-buzz", "unknown"))
    sums = np.add.reduceat(search.problem.likelihoods, search.problem.starts, axis=1)
    assert sums == pytest.approx(1.0)


def test_the_list_of_possibilities_comes_near_the_exact_posterior() -> None:
    findings = (Found("spin-idler", ("rough",)), Found("belt-condition", ("worn",)))
    network = network_of(shipped(), "solid")
    known = together(pieces_of(shipped(), "belt-squeal", findings, "solid").values())
    listed = possibilities(network, known, [], [])
    exact = np.array(list(posterior(network, known).causes.values()))
    assert listed.kept > 0.8
    # What is left out are sets of three faults and more, so each cause is a little too seldom in the list.
    assert listed.weights @ listed.faults == pytest.approx(exact, abs=0.08)


def test_checks_that_look_at_one_sign_are_not_counted_twice() -> None:
    network = network_of(shipped(), "unknown")
    known = complaint(shipped(), "shutdown-buzz")
    listed = possibilities(network, known, ["pulley-slips"], ["pulley-slips"])
    slips = listed.levels["pulley-slips"][:, 1]
    assert set(slips.tolist()) == {0.0, 1.0}
    search = search_of(shipped(), Vehicle("shutdown-buzz", "unknown", (Found("decoupler-drive-feel", ("slips",)),)))
    at = search.checks.index("clutch-drive-feel")
    assert outlook(search.problem, search.root).chances[search.problem.columns(at)] == pytest.approx([0.0, 1.0])


def test_a_check_without_its_tool_is_left_out() -> None:
    search = search_of(shipped(), Vehicle("shutdown-buzz", "solid", without=frozenset({"pick-ups"})))
    assert "bearing-listen" not in search.checks
    assert "coast-down" in search.checks


def test_a_grown_route_is_cheaper_than_one_step_of_information_and_dearer_than_the_bound() -> None:
    search = search_of(shipped(), Vehicle("shutdown-buzz", "solid", left_out=frozenset({"when-heard"})))
    grown, greedy = (
        totals(search.problem, grow(search.problem, search.root, lambda _checks, _ended: None, policy, 40))
        for policy in (best_check, most_telling)
    )
    bound = lower_bound(search.problem, search.root, search.turns)
    assert bound.cost_min - 3 * bound.error_min < grown.minutes + grown.loss < greedy.minutes + greedy.loss
