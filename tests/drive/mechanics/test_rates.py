"""Which part turns as often as a noise repeats."""

import pytest

from triage.drive.mechanics.rates import match_rate

RATES_HZ = {"lap": 3.27, "crank": 12.5, "firing": 25.0, "alternator": 34.1, "idler": 25.6}


def test_a_clear_reading_names_one_part() -> None:
    match = match_rate(3.3, 0.05, RATES_HZ)
    assert match.fits == ("lap",)
    assert match.apart_hz is None


def test_parts_within_the_spread_are_named_together_with_what_would_part_them() -> None:
    match = match_rate(25.2, 0.4, RATES_HZ)
    assert match.fits == ("firing", "idler")
    assert match.apart_hz == pytest.approx(0.15)
    assert match.apart_hz is not None
    assert len(match_rate(25.0, match.apart_hz * 0.99, RATES_HZ).fits) == 1


def test_a_reading_that_fits_nothing_still_names_the_nearest() -> None:
    match = match_rate(18.0, 0.2, RATES_HZ)
    assert match.fits == ()
    assert match.nearest == "crank"


def test_parts_that_turn_alike_cannot_be_told_apart_by_any_count() -> None:
    match = match_rate(20.0, 0.1, {"idler-1": 20.0, "idler-2": 20.0})
    assert set(match.fits) == {"idler-1", "idler-2"}
    assert match.apart_hz is None


def test_a_part_that_is_unsure_itself_fits_from_farther_off() -> None:
    assert match_rate(33.0, 0.1, RATES_HZ).fits == ()
    match = match_rate(33.0, 0.1, RATES_HZ, {"alternator": 0.6})
    assert match.fits == ("alternator",)


def test_no_count_parts_what_the_layout_itself_cannot() -> None:
    assert match_rate(25.2, 0.4, RATES_HZ, {"idler": 0.2}).apart_hz is None
    match = match_rate(25.2, 0.4, RATES_HZ, {"idler": 0.1})
    assert match.apart_hz == pytest.approx((0.15**2 - 0.1**2) ** 0.5)


def test_nothing_to_compare_with_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing to compare"):
        match_rate(3.0, 0.1, {})
