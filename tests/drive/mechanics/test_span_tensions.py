"""Tensions of all spans from the torques of the pulleys."""

import pytest

from triage.drive.mechanics.span_tensions import level_by, steps_of


def test_the_belt_pulls_harder_behind_every_pulley_that_takes_torque() -> None:
    tensions = level_by(steps_of((0.0, 4.0, 6.0), (0.1, 0.05, 0.03)), (0.2, 0.2, 0.2), 300.0)
    assert tensions[1] - tensions[0] == pytest.approx(4.0 / 0.05)
    assert tensions[2] - tensions[1] == pytest.approx(6.0 / 0.03)


def test_without_a_tensioner_the_mean_over_the_belts_length_stays() -> None:
    lengths = (0.15, 0.35, 0.55)
    tensions = level_by(steps_of((0.0, 4.0, 6.0), (0.1, 0.05, 0.03)), lengths, 300.0)
    stretched = sum(tension * length for tension, length in zip(tensions, lengths, strict=True))
    assert stretched == pytest.approx(300.0 * sum(lengths))


def test_a_tensioner_keeps_its_own_spans_where_they_were() -> None:
    tensions = level_by(steps_of((0.0, 0.0, 6.0), (0.1, 0.05, 0.03)), (1, 1, 0), 300.0)
    assert tensions == pytest.approx((300.0, 300.0, 500.0))


def test_the_crank_closes_the_balance() -> None:
    # What the accessories take at the rim, the crank gives: the drop over it is the sum of M/r.
    tensions = level_by(steps_of((0.0, 4.0, 6.0), (0.1, 0.05, 0.03)), (1, 1, 1), 300.0)
    assert tensions[-1] - tensions[0] == pytest.approx(4.0 / 0.05 + 6.0 / 0.03)
