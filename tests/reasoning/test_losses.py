"""Losses: added up over the causes, and the best choice for each by itself."""

import numpy as np

from triage.reasoning.losses import Losses

LOSSES = Losses(np.array([60.0, 90.0]), np.array([240.0, 30.0]))


def test_a_sure_fault_that_is_put_right_costs_nothing() -> None:
    assert LOSSES.of(np.array([1.0, 0.0]), np.array([True, False])) == 0.0


def test_a_choice_costs_what_is_renewed_for_nothing_and_what_is_left_in() -> None:
    assert LOSSES.of(np.array([0.25, 0.5]), np.array([True, False])) == 0.75 * 60 + 0.5 * 30


def test_the_best_choice_is_no_dearer_than_any_choice() -> None:
    probabilities = np.array([[0.1, 0.9], [0.21, 0.7], [0.0, 1.0]])
    choices = [np.array([first, second]) for first in (True, False) for second in (True, False)]
    cheapest = np.min([LOSSES.of(probabilities, choice) for choice in choices], axis=0)
    assert np.allclose(LOSSES.least(probabilities), cheapest)
