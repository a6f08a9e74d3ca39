"""Taps come to the rate, the spread and the number of taps that least squares gives."""

import math
import random
from statistics import linear_regression, stdev

import pytest

from triage.tui.session.tapping import FEWEST_TAPS, GOOD_ENOUGH, judge


def test_an_even_beat_has_its_rate_and_no_spread() -> None:
    tapped = judge(tuple(0.25 * number for number in range(8)))
    assert tapped
    assert tapped.rate_hz == pytest.approx(4.0)
    assert tapped.spread_s == pytest.approx(0.0, abs=1e-9)
    assert tapped.needed == 0


def test_few_taps_ask_for_more() -> None:
    tapped = judge((0.0, 0.5, 1.0))
    assert tapped
    assert tapped.needed == FEWEST_TAPS - 3
    assert judge((0.0, 0.5)) is None
    assert judge((1.0, 1.0, 1.0)) is None


def test_rate_and_uncertainty_agree_with_an_independent_regression() -> None:
    draw = random.Random(7)
    taps = tuple(number / 3.27 + draw.gauss(0, 0.03) for number in range(20))
    tapped = judge(taps)
    assert tapped
    slope, start = linear_regression(range(20), taps)
    assert tapped.rate_hz == pytest.approx(1 / slope)
    residues = [tap - start - slope * number for number, tap in enumerate(taps)]
    assert tapped.spread_s == pytest.approx(stdev(residues) * math.sqrt(19 / 18))
    periods = [
        linear_regression(range(20), [n / 3.27 + draw.gauss(0, 0.03) for n in range(20)]).slope for _ in range(2000)
    ]
    assert tapped.uncertainty_hz == pytest.approx(stdev(1 / period for period in periods), rel=0.35)


def test_with_the_taps_that_it_asks_for_the_rate_is_good_enough_and_with_one_less_it_is_not() -> None:
    for spread in (0.02, 0.05, 0.2, 0.4):
        taps = [0.0, 1.0 + spread, 2.0 - spread, 3.0 + spread, 4.0]
        tapped = judge(tuple(taps))
        assert tapped
        enough = tapped.needed + len(taps)
        relative = tapped.spread_s * tapped.rate_hz / math.sqrt(enough * (enough**2 - 1) / 12)
        assert relative <= GOOD_ENOUGH
        fewer = enough - 1
        if enough > FEWEST_TAPS:
            assert tapped.spread_s * tapped.rate_hz / math.sqrt(fewer * (fewer**2 - 1) / 12) > GOOD_ENOUGH


def test_a_tap_that_was_left_out_is_noticed() -> None:
    tapped = judge((0.0, 1.0, 2.0, 4.0, 5.0, 6.0, 7.0))
    assert tapped
    assert tapped.skipped
