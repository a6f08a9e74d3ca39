"""Friction of belts against textbook examples."""

import math

import pytest

from triage.drive.mechanics.grip import centrifugal_tension, flat_ratio, grooved_ratio, slip_margin
from triage.drive.mechanics.speeds import belt_speed


def test_a_flat_belt_holds_what_the_textbook_says() -> None:
    # Khurmi & Gupta, Theory of Machines, ex. 11.4, seen.
    slack_n = 2500 / flat_ratio(0.25, math.radians(160))
    assert slack_n == pytest.approx(1243.78, abs=5e-3)
    assert (2500 - slack_n) * belt_speed(200 / 60, 0.6) / 1000 == pytest.approx(7.893, abs=5e-4)


def test_the_belts_own_mass_takes_its_share_off_both_sides() -> None:
    # Khurmi & Gupta, ex. 11.11: largest tension 2 kN, 0.9 kg/m, 1.2 m at 200 r/min, wrap 169.960°.
    tight_n = 2000 - centrifugal_tension(0.9, belt_speed(200 / 60, 1.2))
    slack_n = tight_n / flat_ratio(0.3, math.radians(169.960))
    assert tight_n == pytest.approx(1857.88, abs=5e-3)
    assert slack_n == pytest.approx(763.016, abs=5e-3)
    assert ((tight_n - slack_n) * 0.6, (tight_n - slack_n) * 0.25) == pytest.approx((656.917, 273.715), abs=5e-3)


def test_a_belt_set_to_a_mean_tension_splits_it_as_the_textbook_says() -> None:
    # Khurmi & Gupta, ex. 11.13: centres 4.8 m, 1.5 and 1.0 m, mean 3 kN, 1.5 kg/m, the 1.0 m pulley at 400 r/min.
    speed_m_s = belt_speed(400 / 60, 1.0)
    wrap_rad = math.pi - 2 * math.asin((1.5 - 1.0) / 2 / 4.8)
    ratio = flat_ratio(0.3, wrap_rad)
    both_n = 2 * (3000 - centrifugal_tension(1.5, speed_m_s))
    tight_n, slack_n = both_n * ratio / (1 + ratio), both_n / (1 + ratio)
    assert (tight_n, slack_n) == pytest.approx((3340.89, 1343.16), abs=5e-3)
    assert (tight_n - slack_n) * speed_m_s / 1000 == pytest.approx(41.840, abs=5e-4)


def test_grooves_wedge_the_belt_as_the_textbook_says() -> None:
    # Khurmi & Gupta, ex. 11.17 and 11.18, groove angle 30° in both.
    ratio = grooved_ratio(0.12, math.pi, math.radians(30))
    assert ratio == pytest.approx(4.29127, abs=5e-6)
    assert 4750.35 / ratio == pytest.approx(1106.98, abs=5e-3)
    ratio = grooved_ratio(0.15, math.radians(140), math.radians(30))
    assert ratio == pytest.approx(4.12110, abs=5e-6)
    assert 560 * 2 / 3 / ratio == pytest.approx(90.591, abs=5e-4)


def test_a_rope_over_a_drum_holds_what_the_mechanics_book_says() -> None:
    # Beer & Johnston, Vector Mechanics 9th ed., sample 8.8, seen: 600 lb, μ 0.25, 120°.
    assert 600 / flat_ratio(0.25, math.radians(120)) == pytest.approx(355.431, abs=5e-4)


def test_the_margin_is_available_over_needed_and_zero_when_a_side_goes_slack() -> None:
    assert slip_margin(4.0, 400.0, 200.0) == pytest.approx(2.0)
    assert slip_margin(4.0, 200.0, 400.0) == pytest.approx(2.0)
    assert slip_margin(4.0, 250.0, 250.0) == pytest.approx(4.0)
    assert slip_margin(4.0, 400.0, -10.0) == 0
    assert slip_margin(4.0, -20.0, -10.0) == 0
