"""Readings near limits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from triage.reasoning.conformity import judge, probability_below


@pytest.mark.parametrize(
    ("value", "u", "limits", "conforming_zones", "expected"),
    [
        # JCGM 106:2012, breakdown voltage at least 5.40 V: inputs and rounded answer from memory, recomputed.
        (5.47, 0.05, (5.40,), (1,), 0.919243),
        # JCGM 106:2012, burst strength at least 490 kPa: from memory, recomputed.
        (509.7, 8.6, (490.0,), (1,), 0.989010),
        # JCGM 106:2012, viscosity within 12.5 to 16.3: from memory, recomputed.
        (13.6, 1.8, (12.5, 16.3), (1,), 0.662630),
    ],
)
def test_conformance_probabilities_agree_with_jcgm_106(
    value: float, u: float, limits: tuple[float, ...], conforming_zones: tuple[int, ...], expected: float
) -> None:
    verdict = judge(value, u, limits)
    assert sum(verdict.probabilities[zone] for zone in conforming_zones) == pytest.approx(expected, abs=5e-7)


def test_an_upper_limit_mirrors_a_lower_one() -> None:
    # The same burst strength turned about its limit: at most 490, read 470.3.
    assert judge(470.3, 8.6, (490.0,)).probabilities[0] == pytest.approx(0.989010, abs=5e-7)


def test_burst_strength_is_settled_and_breakdown_voltage_is_too_close_to_call() -> None:
    assert judge(509.7, 8.6, (490.0,)).settled
    assert not judge(5.47, 0.05, (5.40,)).settled


def test_a_reading_exactly_on_a_limit_is_one_half_and_not_settled() -> None:
    # JCGM 106:2012, from memory.
    for u in (0.0, 1e-9, 0.3):
        assert probability_below(1.5, 1.5, u) == 0.5
        verdict = judge(1.5, u, (1.0, 1.5))
        assert not verdict.settled
        assert (verdict.zone, verdict.nearest) == (1, 1)


@pytest.mark.parametrize(("value", "zone", "nearest"), [(0.6, 0, 0), (1.2, 1, 0), (1.3, 1, 1), (1.9, 2, 1)])
def test_without_uncertainty_the_reading_decides(value: float, zone: int, nearest: int) -> None:
    verdict = judge(value, 0.0, (1.0, 1.5))
    assert (verdict.zone, verdict.nearest, verdict.settled) == (zone, nearest, True)
    assert verdict.probabilities[zone] == 1
    assert sum(verdict.probabilities) == 1


def test_a_boundary_is_decided_at_95_percent() -> None:
    # One-sided 95 % quantile of the normal distribution: 1.644854, from memory.
    assert judge(1.644855, 1.0, (0.0,)).settled
    assert not judge(1.644853, 1.0, (0.0,)).settled
    assert judge(-1.644855, 1.0, (0.0,)).settled


def test_every_boundary_has_to_be_decided() -> None:
    assert not judge(1.25, 0.16, (1.0, 1.5)).settled
    assert judge(1.25, 0.15, (1.0, 1.5)).settled


def test_the_margin_is_signed_from_each_limit() -> None:
    assert judge(1.25, 0.1, (1.0, 1.5)).margins == (0.25, -0.25)


def test_a_reading_stays_in_its_zone_when_the_uncertainty_is_wider_than_the_zone() -> None:
    verdict = judge(0.6, 5.0, (0.0, 1.0))
    assert verdict.zone == 1
    assert not verdict.settled
    assert max(verdict.probabilities) > verdict.probabilities[1]


@pytest.mark.parametrize(
    ("value", "u", "limits"),
    [
        (1.0, 0.1, ()),
        (1.0, 0.1, (2.0, 1.0)),
        (1.0, 0.1, (1.0, 1.0)),
        (1.0, -0.1, (1.0,)),
        (math.nan, 0.1, (1.0,)),
        (1.0, math.inf, (1.0,)),
        (1.0, 0.1, (math.inf,)),
    ],
)
def test_what_cannot_be_judged_is_an_error(value: float, u: float, limits: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="must"):
        judge(value, u, limits)


@given(
    value=st.floats(-1e6, 1e6),
    u=st.floats(0, 1e6),
    limits=st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=5, unique=True).map(sorted),
)
def test_probabilities_of_the_zones_add_up_to_one(value: float, u: float, limits: list[float]) -> None:
    verdict = judge(value, u, limits)
    assert sum(verdict.probabilities) == pytest.approx(1.0, abs=1e-12)
    assert all(0 <= share <= 1 for share in verdict.probabilities)
    assert len(verdict.probabilities) == len(limits) + 1
    assert abs(verdict.margins[verdict.nearest]) == min(map(abs, verdict.margins))
