"""Bearing rates against published data sets, and against rolling worked out from velocities."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.drive.bay.formulas import FORMULAS

INCH_M = 0.0254
OUTER, INNER, ELEMENT, CAGE, CAGE_OUTER_TURNING = (
    FORMULAS[f"bearing-{rate}"].function for rate in ("outer", "inner", "element", "cage", "cage-outer")
)


def rates(elements: int, element: float, pitch: float, contact_deg: float, rev_s: float) -> tuple[float, ...]:
    geometry = (element, pitch, math.radians(contact_deg), rev_s)
    return (
        OUTER(elements, *geometry),
        INNER(elements, *geometry),
        ELEMENT(*geometry),
        CAGE(*geometry),
    )


@pytest.mark.parametrize(
    ("source", "inputs", "printed", "tolerance"),
    [
        ("CWRU 6205, seen", (9, 0.3126, 1.537, 0, 1), (3.5848, 5.4152, 2.3567, 0.39828), 1e-4),
        ("CWRU 6203, seen; printed rounding", (8, 0.2656, 1.122, 0, 1), (3.0530, 4.9469, 1.9938, 0.3817), 2e-4),
        ("Qiu 2006, seen", (16, 0.331, 2.815, 15.17, 2000 / 60), (236.4, 296.9, 139.9, 14.8), 4e-3),
        ("round numbers, seen", (8, 10, 50, 0, 1800 / 60), (96, 144, 72, 12), 1e-12),
    ],
)
def test_published_bearings_give_their_rates(
    source: str, inputs: tuple[int, float, float, float, float], printed: tuple[float, ...], tolerance: float
) -> None:
    elements, element, pitch, contact_deg, rev_s = inputs
    found = rates(elements, element * INCH_M, pitch * INCH_M, contact_deg, rev_s)
    assert found == pytest.approx(printed, rel=tolerance), source


def test_a_mark_on_an_element_strikes_twice_a_turn() -> None:
    # CWRU prints 4.7135 for the 6205 and 3.9874 for the 6203: two strikes a turn, one on either race.
    assert 2 * ELEMENT(0.3126, 1.537, 0, 1) == pytest.approx(4.7135, abs=2e-4)
    assert 2 * ELEMENT(0.2656, 1.122, 0, 1) == pytest.approx(3.9874, rel=2e-4)


shapes = st.tuples(st.floats(0.002, 0.02), st.floats(0.03, 0.1), st.floats(0, 0.7))


@given(st.integers(5, 20), shapes, st.floats(0.1, 200))
@settings(deadline=None)
def test_the_rates_of_both_races_add_up_to_the_elements(
    elements: int, shape: tuple[float, float, float], rev_s: float
) -> None:
    outer = OUTER(elements, *shape, rev_s)
    inner = INNER(elements, *shape, rev_s)
    assert outer + inner == pytest.approx(elements * rev_s)
    assert outer == pytest.approx(elements * CAGE(*shape, rev_s))


@given(st.integers(5, 20), shapes, st.floats(-100, 100), st.floats(-100, 100))
@settings(deadline=None)
def test_rates_follow_from_rolling_without_sliding(
    elements: int, shape: tuple[float, float, float], inner_rev_s: float, outer_rev_s: float
) -> None:
    """The element's two contacts move with the races; its centre moves at their mean, so the cage turns with it."""
    element_m, pitch_m, contact_rad = shape
    inner_m = pitch_m / 2 - element_m / 2 * math.cos(contact_rad)
    outer_m = pitch_m / 2 + element_m / 2 * math.cos(contact_rad)
    inner_m_s, outer_m_s = 2 * math.pi * inner_rev_s * inner_m, 2 * math.pi * outer_rev_s * outer_m
    cage_rev_s = (inner_m_s + outer_m_s) / 2 / (2 * math.pi * pitch_m / 2)
    against = abs(inner_rev_s - outer_rev_s)
    passes = elements * abs(outer_rev_s - cage_rev_s), elements * abs(inner_rev_s - cage_rev_s)
    assert OUTER(elements, *shape, against) == pytest.approx(passes[0], abs=1e-9)
    assert INNER(elements, *shape, against) == pytest.approx(passes[1], abs=1e-9)
    # Seen from the cage the inner race rolls the element: both move alike where they touch.
    rolled = abs(inner_rev_s - cage_rev_s) * 2 * inner_m / element_m
    assert ELEMENT(*shape, against) == pytest.approx(rolled, abs=1e-9)
    cage = CAGE(*shape, inner_rev_s) + CAGE_OUTER_TURNING(*shape, outer_rev_s)
    assert cage == pytest.approx(cage_rev_s, abs=1e-9)


def test_an_element_as_large_as_its_circle_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be as large"):
        CAGE(0.05, 0.05, 0.0, 1.0)
