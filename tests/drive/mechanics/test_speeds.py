"""Speeds, rates and slip against published examples."""

import math

import pytest

from triage.drive.bay.formulas import FORMULAS
from triage.drive.mechanics import speeds

FOOT_M = 0.3048


def test_pitch_diameters_set_the_ratio_of_ribbed_pulleys() -> None:
    # ISO 9981:2020, 5.4, seen: line differential 2 mm nominal; 160 over 56 effective is 2.7333, not 2.8571.
    ratio = speeds.turning_rate(1.0, speeds.pitch_diameter(0.160), speeds.pitch_diameter(0.056))
    assert ratio == pytest.approx(2.7333, abs=5e-5)
    assert speeds.turning_rate(1.0, 0.160, 0.056) == pytest.approx(2.8571, abs=5e-5)


def test_a_thick_belt_turns_its_pulley_at_the_textbook_speed() -> None:
    # Bansal, ex. 11.2, thickness offset, seen: 510 and 300 mm, belt 10 mm thick, 200 r/min gives 335.48 r/min.
    thickness_m = 0.010
    assert speeds.turning_rate(200 / 60, 0.510 + thickness_m, 0.300 + thickness_m) * 60 == pytest.approx(
        335.48, abs=5e-3
    )


def test_the_slip_of_two_measured_speeds_is_the_textbook_one() -> None:
    # Khurmi & Gupta, Theory of Machines, ex. 11.11, seen: 1.2 m at 200 r/min drives 0.5 m at 450 r/min, 6.25 %.
    assert FORMULAS["belt-slip"].function(200 / 60, 450 / 60, 1.2, 0.5) == pytest.approx(0.0625, abs=1e-12)


def test_effective_diameters_are_taken_out_to_the_cord_before_slip_is_judged() -> None:
    driven_rev_s = speeds.turning_rate(12.5, 0.164, 0.060)
    assert FORMULAS["belt-slip-effective"].function(12.5, driven_rev_s, 0.160, 0.056) == pytest.approx(0, abs=1e-12)
    assert FORMULAS["belt-slip"].function(12.5, driven_rev_s, 0.160, 0.056) > 0.04


def test_the_chirp_example_gives_its_rates() -> None:
    # Worked example of the reference notes, recomputed: 750 r/min, 150 mm crank pulley, belt 1.8 m, 55 mm pulley.
    crank_rev_s = 750 / 60
    assert speeds.belt_speed(crank_rev_s, 0.150) == pytest.approx(5.89, abs=5e-3)
    assert speeds.lap_rate(crank_rev_s, 0.150, 1.8) == pytest.approx(3.27, abs=5e-3)
    assert speeds.turning_rate(crank_rev_s, 0.150, 0.055) == pytest.approx(34.1, abs=0.05)


def test_a_crank_pulley_at_idle_is_far_above_the_guarding_limit() -> None:
    # OSHA 29 CFR 1910.219 counts belts above 250 ft/min; 150 mm at 800 r/min runs 1237 ft/min.
    feet_per_minute = speeds.belt_speed(800 / 60, 0.150) / FOOT_M * 60
    assert feet_per_minute == pytest.approx(1237, abs=0.5)


def test_a_four_cylinder_engine_fires_twice_a_turn() -> None:
    # Common practice: four cylinders at 1000 r/min fire 33.33 times a second.
    assert speeds.firing_rate(1000 / 60, 4) == pytest.approx(33.33, abs=5e-3)


def test_a_clutch_that_holds_has_no_slip_and_one_that_overruns_a_negative_one() -> None:
    assert FORMULAS["clutch-slip"].function(40.0, 40.0) == 0
    assert FORMULAS["clutch-slip"].function(40.0, 30.0) == pytest.approx(0.25)
    assert FORMULAS["clutch-slip"].function(40.0, 50.0) < 0


def test_a_count_over_a_time_is_a_rate() -> None:
    assert FORMULAS["counted-rate"].function(33, 10.0) == pytest.approx(3.3)


def test_a_lap_takes_as_long_as_the_belt_needs_to_pass_itself() -> None:
    assert speeds.lap_rate(10.0, 1 / math.pi, 2.0) == pytest.approx(5.0)
