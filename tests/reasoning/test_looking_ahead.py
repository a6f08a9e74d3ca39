"""Published test sequences through the functions that a search uses."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from triage.reasoning.growing import Policy, best_check, best_choice, grow, totals
from triage.reasoning.looking_ahead import chain, choices, most_telling, next_in_order, value
from triage.reasoning.sequencing import Position, Problem, end, entropy_bits, followed, root

WRONG_MIN = 1000.0
"""A wrong end costs so much that identifying always pays."""


def identification(priors: Sequence[float], rows: Sequence[str]) -> Problem:
    """States told apart by tests of unit cost that are never wrong; each row has a state's results."""
    results = np.array([[int(result) for result in row] for row in rows])
    states, tests = results.shape
    columns = [results[:, test] == outcome for test in range(tests) for outcome in (0, 1)]
    return Problem(
        weights=np.array(priors),
        likelihoods=np.column_stack(columns).astype(float),
        sizes=(2,) * tests,
        minutes=np.ones((1, tests)),
        after=np.zeros((1, tests), dtype=np.int64),
        ends=WRONG_MIN * (1.0 - np.eye(states)),
        names=np.zeros((states, 0)),
        speaks=np.zeros((0, 2 * tests), dtype=np.bool_),
        groups=np.eye(states),
        opens=lambda _made: range(tests),
    )


# Source: Pattipati & Alexandridis 1990, table from memory.
PATTIPATI = identification([0.70, 0.01, 0.02, 0.10, 0.05, 0.12], ["00000", "01001", "00110", "10011", "11000", "11110"])
# Source: Balakrishnan & Semmelbauer 1999, Decision Support Systems 25.
BALAKRISHNAN = identification([0.2] * 5, ["0000", "0001", "0011", "0111", "1111"])


def expected_cost(problem: Problem, policy: Policy) -> float:
    found = totals(problem, grow(problem, root(problem), lambda _checks, _ended: None, policy))
    return found.minutes + found.loss


def test_looking_to_the_end_reaches_the_published_optimum() -> None:
    # Source: Pattipati & Alexandridis 1990: 2.18.
    assert value(PATTIPATI, root(PATTIPATI), steps=5) == pytest.approx(2.18)
    # Source: Balakrishnan & Semmelbauer 1999: 2.4.
    assert value(BALAKRISHNAN, root(BALAKRISHNAN), steps=4) == pytest.approx(2.4)


def test_each_first_test_costs_what_was_published() -> None:
    # Source: Pattipati & Alexandridis 1990: t1 2.86, t2 2.18, t3 2.82, t4 2.18, t5 2.89.
    costs = {choice.check + 1: round(choice.cost_min, 2) for choice in choices(PATTIPATI, root(PATTIPATI), steps=5)}
    assert costs == {1: 2.86, 2: 2.18, 3: 2.82, 4: 2.18, 5: 2.89}


def test_one_step_of_information_gain_takes_the_published_wrong_turn() -> None:
    # Source: Pattipati & Alexandridis 1990: t1 first, 2.86.
    assert most_telling(PATTIPATI, root(PATTIPATI)) == 0
    assert expected_cost(PATTIPATI, most_telling) == pytest.approx(2.86)


def test_the_entropy_of_the_states_is_as_published() -> None:
    # Source: Pattipati & Alexandridis 1990: 1.454873 bits.
    assert float(entropy_bits(PATTIPATI.weights)) == pytest.approx(1.454873, abs=1e-6)


def test_a_fixed_order_costs_what_was_published() -> None:
    # Source: Balakrishnan & Semmelbauer 1999: index order 2.8.
    assert expected_cost(BALAKRISHNAN, next_in_order) == pytest.approx(2.8)


def test_a_grown_route_of_a_small_problem_is_the_best_one() -> None:
    assert expected_cost(BALAKRISHNAN, best_check) == pytest.approx(2.4)


def test_a_chain_never_costs_less_than_the_best_route() -> None:
    for problem in (PATTIPATI, BALAKRISHNAN):
        assert chain(problem, root(problem)) >= value(problem, root(problem), steps=5)


def test_nothing_is_concluded_that_nothing_spoke_for() -> None:
    priors = [0.9, 0.1]
    problem = identification(priors, ["0", "1"])
    guarded = replace(problem, names=np.array([[1.0], [0.0]]), speaks=np.array([[True, False]]))
    silent = Position(guarded.weights, np.array([False]))
    assert end(guarded, silent).index == 1
    assert end(guarded, Position(guarded.weights, np.array([True]))).index == 0


def two_faults(minutes: float, likely: float = 0.0) -> Problem:
    """A seldom fault that one dear test shows, and a second that nothing shows but can be named at any time."""
    return Problem(
        weights=np.array([0.98 - likely, 0.02, likely]),
        likelihoods=np.array([[1.0, 0.0, 1.0, 0.0], [0.0, 1.0, 1.0, 0.0], [1.0, 0.0, 1.0, 0.0]]),
        sizes=(2, 2),
        minutes=np.array([[minutes, 1.0]]),
        after=np.zeros((1, 2), dtype=np.int64),
        ends=np.array([[0.0, 300.0, 300.0], [120.0, 0.0, 420.0], [120.0, 420.0, 0.0]]),
        names=np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]),
        speaks=np.array([[False, True, False, False], [True, True, True, True]]),
        groups=np.eye(3),
        opens=lambda _made: range(2),
    )


def test_where_no_check_pays_and_nothing_is_named_the_check_that_can_name_something_is_made() -> None:
    dear = two_faults(minutes=90.0)
    assert best_choice(dear, root(dear)) is None
    assert best_check(dear, root(dear)) == 0
    assert best_check(dear, followed(dear, root(dear), 0, 0)) is None


def test_where_something_is_named_no_further_check_is_made_that_does_not_pay() -> None:
    named = two_faults(minutes=90.0, likely=0.6)
    spoken = replace(root(named), spoken=np.array([False, True]))
    assert end(named, spoken).index == 2
    assert best_check(named, spoken) is None
