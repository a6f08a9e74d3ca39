"""The page about mechanics keeps up with the program."""

from pathlib import Path

import pytest

from triage.drive.bay.formulas import FORMULAS
from triage.drive.layout.assembly import assemble
from triage.drive.layout.placement import read_layout
from triage.drive.pages.picture import picture
from triage.knowledge.shipped import trees_folder
from triage.record.layout import Belt, Engine, Layout, Pulley, Tensioner

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGE = (DOCS / "mechanics.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("formula_id", FORMULAS)
def test_every_formula_stands_on_the_page_as_it_is(formula_id: str) -> None:
    formula = FORMULAS[formula_id]
    assert f"| `{formula_id}`: {formula.title} | {formula.text} | {formula.source} | {formula.limits} |" in PAGE


@pytest.mark.parametrize("model", [Layout, Belt, Pulley, Tensioner, Engine])
def test_every_key_of_a_layout_is_explained(model: type) -> None:
    assert all(f"`{name}`" in PAGE for name in model.model_fields)  # type: ignore[attr-defined]


def test_the_picture_is_the_one_that_the_program_draws() -> None:
    drive = assemble(read_layout(trees_folder() / "layouts" / "four-cylinder-full.yaml"))
    assert drive.route is not None
    names = [member.part for member in drive.members]
    drawn = (DOCS / "pictures" / "four-cylinder-full.svg").read_text(encoding="utf-8")
    assert drawn == picture(drive.route, names, f"Belt over {', '.join(names)}")
