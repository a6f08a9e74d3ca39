"""Age replacement, against published values, and against a vehicle that is kept for ever."""

import math

import pytest

from triage.reasoning.repair.renewal import RenewalPlan
from triage.record.wear import Life, Uniform, Weibull

WORN = RenewalPlan(Weibull(shape=2.5, scale=1000.0), 1.0, 5.0)


def test_a_weibull_part_of_shape_2_5_and_scale_1000_h_is_renewed_at_493_h() -> None:
    # Textbook problem seen, its answer from memory, recomputed: costs 1 planned and 5 failed.
    assert WORN.best_age() == pytest.approx(493.047, abs=5e-4)


def test_a_weibull_part_of_shape_3_and_scale_150_days_is_renewed_at_83_days() -> None:
    # Textbook problem seen, its answer from memory, recomputed: costs 2 planned and 8 failed.
    assert RenewalPlan(Weibull(shape=3.0, scale=150.0), 2.0, 8.0).best_age() == pytest.approx(83.123, abs=5e-4)


def test_a_uniform_part_costs_what_jardine_and_tsang_print() -> None:
    # Jardine & Tsang, Maintenance, Replacement and Reliability, seen: life up to 40 000 km, costs 100 and 200.
    uniform = RenewalPlan(Uniform(longest=40_000.0), 100.0, 200.0)
    assert [round(uniform.rate(age), 4) for age in (10e3, 20e3, 30e3, 40e3)] == [0.0143, 0.0100, 0.0093, 0.0100]
    assert uniform.best_age() == pytest.approx(40_000 * (math.sqrt(3) - 1))  # the zero of x² + 2x − 2, by hand


@pytest.mark.parametrize("life", [WORN.life, Uniform(longest=900.0)], ids=str)
def test_no_age_costs_less_per_use_than_the_best(life: Life) -> None:
    renewal = RenewalPlan(life, 1.0, 4.0)
    least = renewal.rate(renewal.best_age())
    assert all(renewal.rate(life.end * share / 50) >= least for share in range(1, 51))


def test_a_part_whose_failure_costs_no_more_is_left_until_it_fails() -> None:
    assert RenewalPlan(WORN.life, 3.0, 3.0).best_age() == math.inf


def ahead_for_ever(renewal: RenewalPlan, age: float) -> float:
    """Closed form for a vehicle that is kept for ever: cost to the next renewal less the mean cost in that time."""
    due = renewal.best_age()
    if age >= due:
        return renewal.planned
    alive, left = renewal.life.alive(age), renewal.life.alive(due)
    use = renewal.life.lived(due) - renewal.life.lived(age)
    return (renewal.planned * left + renewal.failed * (alive - left) - renewal.rate(due) * use) / alive


@pytest.mark.parametrize("age", [100.0, 300.0, 450.0, 600.0])
def test_a_vehicle_kept_for_several_lives_comes_near_one_that_is_kept_for_ever(age: float) -> None:
    assert WORN.ahead(age, 3000.0) == pytest.approx(ahead_for_ever(WORN, age), abs=0.03)


def test_a_part_for_a_vehicle_that_goes_soon_is_hardly_worth_renewing() -> None:
    kept = [WORN.ahead(300.0, kept) for kept in (1.0, 50.0, 200.0, 1000.0)]
    assert kept == sorted(kept)
    assert kept[0] < 0.01


def test_what_is_ahead_rises_with_age_up_to_a_planned_renewal() -> None:
    ahead = [WORN.ahead(age, 1500.0) for age in (0.0, 100.0, 200.0, 400.0, 800.0, 5000.0)]
    assert ahead == sorted(ahead)
    assert ahead[0] == 0.0
    assert ahead[-1] == pytest.approx(WORN.planned)


def test_a_part_that_hardly_wears_is_left_until_it_fails() -> None:
    assert RenewalPlan(Weibull(shape=1.01, scale=1000.0), 1.0, 5.0).best_age() == math.inf
