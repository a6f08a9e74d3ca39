"""Angles from a straightedge and a rule."""

import math

import pytest

from triage.drive.bay.formulas import FORMULAS

ENTRY_ANGLE = FORMULAS["entry-angle"].function
TILT_ANGLE = FORMULAS["tilt-angle"].function


def test_two_millimetres_over_three_hundred_are_above_the_chirp_guideline() -> None:
    # SAE 1999-01-1709, abstract, seen: guideline 0.33°; reference notes give 0.38196°, cut, not rounded.
    angle_deg = math.degrees(ENTRY_ANGLE(0.002, 0.300))
    assert angle_deg == pytest.approx(0.38196, abs=1e-5)
    assert angle_deg > 0.33


def test_half_a_degree_is_nearly_nine_millimetres_a_metre() -> None:
    # Reference notes, recomputed: 0.5° = 8.727 mm/m.
    assert math.degrees(ENTRY_ANGLE(0.008727, 1.0)) == pytest.approx(0.5, abs=1e-4)


def test_the_entry_angle_keeps_the_sign_of_the_offset() -> None:
    assert ENTRY_ANGLE(-0.002, 0.300) == -ENTRY_ANGLE(0.002, 0.300)


def test_equal_gaps_at_two_heights_are_no_tilt() -> None:
    assert TILT_ANGLE(0.0015, 0.0015, 0.120) == 0
    assert math.degrees(TILT_ANGLE(0.002, 0.001, 0.120)) == pytest.approx(0.4774, abs=1e-3)
