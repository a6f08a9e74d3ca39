"""Rates and notes of a whole drive."""

from collections.abc import Callable

import pytest

from triage.drive.figures.derived import UnknownFigureError
from triage.drive.figures.running import Running, repeat_rates
from triage.drive.layout.assembly import Drive

Change = Callable[..., Drive]


def test_every_pulley_carries_the_belt_at_the_same_speed(reference: Drive) -> None:
    turns = Running(reference, 12.5).turns_per_s
    rims = [3.141592653589793 * member.pitch_m * turn for member, turn in zip(reference.members, turns, strict=True)]
    assert rims == pytest.approx([Running(reference, 12.5).belt_m_s] * 3)


def test_the_belts_own_length_goes_before_the_way_round_the_pulleys(reference_with: Change) -> None:
    assert Running(reference_with(), None).belt_m == pytest.approx(1.51409, abs=1e-5)
    assert Running(reference_with(("ribs: 6", "length: 1.52 m")), None).belt_m == pytest.approx(1.52)


def test_laps_need_a_length_and_firing_needs_cylinders(reference_with: Change) -> None:
    unplaced = reference_with(("at: [0 mm, 0 mm]", "at: null"), ("cylinders: 4, ", ""))
    with pytest.raises(UnknownFigureError, match=r"neither belt\.length"):
        assert Running(unplaced, 12.5).lap_hz
    with pytest.raises(UnknownFigureError, match=r"engine\.cylinders"):
        assert Running(unplaced, 12.5).firing_hz
    assert set(repeat_rates(unplaced, 12.5)) == {"crank", "tensioner", "alternator"}


def test_repeat_rates_name_all_that_comes_round(reference: Drive) -> None:
    rates = repeat_rates(reference, 12.5)
    assert set(rates) == {"crank", "tensioner", "alternator", "lap", "firing"}
    assert rates["firing"] == 25
    assert rates["lap"] == pytest.approx(6.98219 / 1.51409, rel=1e-5)


def test_what_is_missing_is_named(reference_with: Change) -> None:
    with pytest.raises(UnknownFigureError, match=r"position \(at\) of alternator"):
        assert Running(reference_with(("at: [0 mm, 0 mm]", "at: null")), None).route
    with pytest.raises(UnknownFigureError, match=r"engine\.idle"):
        assert Running(reference_with(), None).turns_per_s
