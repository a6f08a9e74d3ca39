"""The table of units against the unit library that it was made from, row by row."""

from fractions import Fraction

import pytest

from triage.units import KINDS
from triage.units.factors import FACTORS
from triage.units.library import differing, factor_of

IN_CATALOGUE = {(unit.expression, kind.expression) for kind in KINDS.values() for unit in kind.units}


@pytest.mark.parametrize("row", FACTORS, ids=" in ".join)
def test_every_row_is_what_the_unit_library_says(row: tuple[str, str]) -> None:
    for made, told in zip(map(Fraction, FACTORS[row]), factor_of(*row), strict=True):
        # Libraries write π with another number of digits from version to version; everything else is exact.
        assert made == told or abs(made / told - 1) < Fraction(1, 10**30)


def test_the_table_holds_every_unit_of_the_catalogue_and_no_other() -> None:
    assert FACTORS.keys() == IN_CATALOGUE


def test_a_row_that_the_library_gives_otherwise_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    assert differing() == ()
    changed = dict(FACTORS) | {("inch", "meter"): ("127/5001", "0"), ("degree_Celsius", "kelvin"): ("1", "273")}
    monkeypatch.setattr("triage.units.library.FACTORS", changed)
    assert set(differing()) == {("inch", "meter"), ("degree_Celsius", "kelvin")}
