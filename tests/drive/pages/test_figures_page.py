"""The page of text about a drive."""

from collections.abc import Callable

import pytest

from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.placement import read_layout
from triage.drive.mechanics.rates import match_rate
from triage.drive.pages.figures_page import NOTICE, account, account_of_match
from triage.knowledge.shipped import trees_folder

SHIPPED = sorted((trees_folder() / "layouts").glob("*.yaml"))


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_every_shipped_layout_has_a_page_that_says_who_decides(file: object) -> None:
    drive = assemble(read_layout(file))  # type: ignore[arg-type]
    page = account(drive, figures_of(drive))
    assert NOTICE in page
    assert "Invented for the demo" in page.splitlines()[0]
    table = [line for line in page.splitlines() if line.startswith("  1  crank")]
    assert table
    assert all(len(line) <= 80 for line in table)


@pytest.mark.parametrize("columns", [56, 74, 80])
@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_a_page_keeps_within_its_columns_and_loses_no_figure(file: object, columns: int) -> None:
    drive = assemble(read_layout(file))  # type: ignore[arg-type]
    figures = figures_of(drive)
    page = account(drive, figures, columns)
    assert all(len(line) <= columns for line in page.splitlines())
    words = [set(account(drive, figures, width).split()) for width in (columns, 80)]
    assert drive.route is None or "ooo" in page
    assert {word for word in words[1] - words[0] if word[0].isdigit()} == set()


def test_reasons_stand_on_the_page_once(reference_with: Callable[..., Drive]) -> None:
    drive = reference_with(("tension: 300 N\n", ""))
    page = account(drive, figures_of(drive))
    assert page.count("The layout does not give tension.") == 1
    assert "Share of grip used: unknown." in page


def test_a_match_names_what_fits_and_what_cannot_be_told_apart() -> None:
    rates = {"lap": 4.6, "crank": 12.5, "firing": 25.0, "idler": 25.4}
    assert account_of_match(match_rate(4.6, 0.1, rates)) == "It fits lap and nothing else here.\n"
    assert "cannot tell them apart" in account_of_match(match_rate(25.2, 0.2, rates))
    assert "nearest is crank" in account_of_match(match_rate(17.0, 0.2, rates))
    assert "no count will" in account_of_match(match_rate(10.0, 0.2, {"a": 10.0, "b": 10.0}))


def test_a_match_names_what_is_unknown_and_was_not_compared() -> None:
    parts = {"crank": 12.5, "alternator": 34.5}
    said = account_of_match(match_rate(34.5, 0.1, parts))
    assert said == "It fits alternator and nothing else here. Lap and firing are unknown here and were not compared.\n"
    said = account_of_match(match_rate(20.0, 0.1, {**parts, "lap": 4.6}))
    assert said.endswith("nearest is crank. Firing is unknown here and was not compared.\n")


def test_a_sentence_says_unknown_where_a_table_has_a_dash(reference_with: Callable[..., Drive]) -> None:
    drive = reference_with(
        ("at: [0 mm, 0 mm]", "inertia: 1 kg·m²"), (" inertia: 0.00293 kg·m²", " side: ribs"), ("cylinders: 4, ", "")
    )
    page = account(drive, figures_of(drive))
    assert "Belt along the cord: unknown." in page
    assert "laps unknown, firing unknown." in page
    assert "- mm" not in page
    assert "- Hz" not in page
