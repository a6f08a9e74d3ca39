"""Formulas as data: what they refuse, and how uncertainty goes through them."""

import math

import pytest

from triage.drive.bay.formula import Formula, FormulaPart, result_of, uncertainty_of
from triage.errors import QuantityRefused

AREA = Formula(
    "area",
    "Area of a rectangle",
    (FormulaPart("width", "length", "a"), FormulaPart("height", "length", "b", "not-negative")),
    "number",
    lambda width_m, height_m: width_m * height_m,
    "a·b",
    "from-memory",
    "",
)
ROOT = Formula("root", "", (FormulaPart("square", "number", "x", "any"),), "number", math.sqrt, "√x", "from-memory", "")


def test_independent_uncertainties_add_in_squares() -> None:
    # JCGM 100, 5.1.6: relative uncertainties of a product add in squares.
    relative = uncertainty_of(AREA, (2.0, 3.0), (0.02, 0.06)) / 6.0
    assert relative == pytest.approx(math.hypot(0.01, 0.02), rel=1e-6)


def test_exact_parts_give_an_exact_result() -> None:
    assert uncertainty_of(AREA, (2.0, 3.0), (0.0, 0.0)) == 0


def test_a_part_of_nothing_still_carries_its_uncertainty() -> None:
    assert uncertainty_of(AREA, (2.0, 0.0), (0.0, 0.1)) == pytest.approx(0.2)


@pytest.mark.parametrize(("values", "named"), [((0.0, 1.0), "width"), ((-1.0, 1.0), "width"), ((1.0, -1.0), "height")])
def test_values_without_sense_are_refused_by_name(values: tuple[float, float], named: str) -> None:
    with pytest.raises(QuantityRefused, match=named):
        result_of(AREA, values)


@pytest.mark.parametrize("value", [math.nan, -1.0, math.inf])
def test_values_without_a_result_are_refused(value: float) -> None:
    with pytest.raises(QuantityRefused):
        result_of(ROOT, (value,))
