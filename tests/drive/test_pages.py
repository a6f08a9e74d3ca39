"""The page about mechanics keeps up with the program."""

from pathlib import Path

import pytest

from triage.drive.bay.formulas import FORMULAS
from triage.record.layout import Belt, Engine, FreeCrank, Layout, Pulley, Simulation, Tensioner

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGE = (DOCS / "mechanics.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("formula_id", FORMULAS)
def test_every_formula_stands_on_the_page_as_it_is(formula_id: str) -> None:
    formula = FORMULAS[formula_id]
    assert f"| `{formula_id}`: {formula.title} | {formula.text} | {formula.source} | {formula.limits} |" in PAGE


@pytest.mark.parametrize("model", [Layout, Belt, Pulley, Tensioner, Engine, Simulation, FreeCrank])
def test_every_key_of_a_layout_is_explained(model: type) -> None:
    assert all(f"`{name}`" in PAGE for name in model.model_fields)  # type: ignore[attr-defined]
