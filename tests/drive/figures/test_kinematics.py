"""Rates and notes of a whole drive."""

from collections.abc import Callable

import pytest

from triage.drive.figures import kinematics
from triage.drive.figures.unknown import UnknownFigureError
from triage.drive.layout.assembly import Drive

Change = Callable[..., Drive]


def test_every_pulley_carries_the_belt_at_the_same_speed(reference: Drive) -> None:
    turns = kinematics.turns_of(reference, 12.5)
    rims = [3.141592653589793 * member.pitch_m * turn for member, turn in zip(reference.members, turns, strict=True)]
    assert rims == pytest.approx([kinematics.speed_of_belt(reference, 12.5)] * 3)


def test_the_belts_own_length_goes_before_the_way_round_the_pulleys(reference_with: Change) -> None:
    assert kinematics.belt_length(reference_with()) == pytest.approx(1.51409, abs=1e-5)
    assert kinematics.belt_length(reference_with(("ribs: 6", "length: 1.52 m"))) == pytest.approx(1.52)


def test_laps_need_a_length_and_firing_needs_cylinders(reference_with: Change) -> None:
    unplaced = reference_with(("at: [0 mm, 0 mm]", "at: null"), ("cylinders: 4, ", ""))
    with pytest.raises(UnknownFigureError, match=r"neither belt\.length"):
        kinematics.laps_of(unplaced, 12.5)
    with pytest.raises(UnknownFigureError, match=r"engine\.cylinders"):
        kinematics.firings_of(unplaced, 12.5)
    assert set(kinematics.repeat_rates(unplaced, 12.5)) == {"crank", "tensioner", "alternator"}


def test_repeat_rates_name_all_that_comes_round(reference: Drive) -> None:
    rates = kinematics.repeat_rates(reference, 12.5)
    assert set(rates) == {"crank", "tensioner", "alternator", "lap", "firing"}
    assert rates["firing"] == 25
    assert rates["lap"] == pytest.approx(6.98219 / 1.51409, rel=1e-5)


def test_span_notes_fall_with_speed_and_end_where_waves_are_outrun(reference: Drive) -> None:
    # String: f = √(T/m)/(2·L), 300 N, 0.1029 kg/m over the published spans of 0.1548, 0.3449, 0.5518 m.
    standing = kinematics.span_notes(reference, 0.0)
    assert standing == pytest.approx((174.40, 78.28, 48.93), abs=0.02)
    assert all(slow < still for slow, still in zip(kinematics.span_notes(reference, 12.5), standing, strict=True))
    with pytest.raises(UnknownFigureError, match="no note"):
        kinematics.span_notes(reference, 100.0)


def test_what_is_missing_is_named(reference_with: Change) -> None:
    with pytest.raises(UnknownFigureError, match=r"mass_per_metre"):
        kinematics.span_notes(reference_with(("mass_per_metre: 0.1029 kg/m, ", "")), 10.0)
    with pytest.raises(UnknownFigureError, match=r"position \(at\) of alternator"):
        kinematics.known_route(reference_with(("at: [0 mm, 0 mm]", "at: null")))
    with pytest.raises(UnknownFigureError, match=r"engine\.idle"):
        kinematics.turns_of(reference_with(), None)
