"""The hand tools as a technician meets them: typed quantities in, a page out."""

import pytest

from triage.drive.bay.formulas import FORMULAS
from triage.drive.pages.figures_page import NOTICE
from triage.drive.pages.handtools import answer, converted, tool_named, work_out
from triage.errors import QuantityRefused, QuantityUnclear, TriageError

TITLES = {"navedtra-14315": "A navy manual"}


def test_a_page_shows_formula_numbers_result_uncertainty_source_and_who_decides() -> None:
    # US Navy NAVEDTRA 14315, fig. 3-44/45, seen: 100 lbf·in, 12 and 6 in give 66.7 lbf·in.
    page = answer(["adapter-setting", "100 ± 4 lbf·in", "12 in", "6 in"], TITLES)
    for expected in (
        "setting = T·L / (L + E·cos θ)",
        "100 ± 4 lbf·in",
        "setting = 66.7 lbf·in, standard uncertainty 1.5 lbf·in",
        "Source: A navy manual.",
        NOTICE,
    ):
        assert expected in page


def test_a_typed_spread_becomes_a_standard_uncertainty() -> None:
    # JCGM 100, 4.3.7: evenly spread within ± a is a/√3; 4/√3 · 12/18 = 1.54 lbf·in.
    working = work_out(tool_named("adapter-setting"), ["100 ± 4 lbf·in", "12 in", "6 in"])
    assert working.uncertainty == pytest.approx(4 / 3**0.5 * 12 / 18 * 0.112984829, rel=1e-6)
    assert work_out(tool_named("adapter-setting"), ["100 lbf·in", "12 in", "6 in"]).uncertainty is None


def test_without_a_typed_spread_the_page_says_that_it_knows_none() -> None:
    assert "unknown, because no ± was typed" in answer(["rib-tension", "629 N", "6"], {})


def test_slip_is_shown_in_percent() -> None:
    # Khurmi & Gupta, ex. 11.11, seen: 6.25 %.
    assert "slip = 6.25 %" in answer(["belt-slip", "200 rpm", "450 rpm", "1.2 m", "0.5 m"], {})


def test_an_offset_may_lie_on_either_side() -> None:
    assert "angle = −0.382°" in answer(["entry-angle", "-2 mm", "300 mm"], {})


def test_the_list_names_every_tool() -> None:
    listed = answer([], {})
    assert all(f"{name} " in listed for name in [*FORMULAS, "convert"])


@pytest.mark.parametrize("name", FORMULAS)
def test_a_name_alone_says_what_the_tool_takes(name: str) -> None:
    page = answer([name], {})
    assert all(part.name in page for part in FORMULAS[name].parts)
    assert NOTICE in page


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["13 in-lb", "Nm"], "13 lbf·in (1.47 N·m) = 1.4688 N·m\n"),
        (["66 ft lbs", "N·m"], "66 lbf·ft (89.5 N·m) = 89.484 N·m\n"),
        (["60 rpm", "Hz"], "60 r/min = 1 Hz\n"),
        (["95k miles", "km"], "95000 mi (152888 km) = 152888 km\n"),
        (["3/16 in", "mm"], "0.1875 in (4.76 mm) = 4.7625 mm\n"),
    ],
)
def test_quantities_convert_with_the_trades_spellings(words: list[str], said: str) -> None:
    assert converted(words) == said


@pytest.mark.parametrize(
    ("words", "error", "said"),
    [
        (["adapter-seting"], TriageError, "adapter-setting"),
        (["zzzz"], TriageError, "lists them all"),
        (["adapter-setting", "1"], QuantityRefused, "takes 4 values, not 1"),
        (["rib-tension", "1 N", "6", "7"], QuantityRefused, "takes 2 values, not 3"),
        (["rib-tension", "5 mm", "6"], QuantityRefused, "The span tension:"),
        (["counted-rate", "33", "1,234 s"], QuantityUnclear, "The time:"),
        (["rib-tension", "0 N", "6"], QuantityRefused, "more than zero"),
        (["convert", "13 in·lbf"], QuantityRefused, "a quantity and a unit"),
        (["convert", "13 in·lbf", "mm"], QuantityRefused, "cannot be said in mm"),
        (["convert", "13", "mm"], QuantityRefused, "Type the unit"),
        (["convert", "95 miles", "ft"], QuantityRefused, "a length at a vehicle or a bench is at most 100 m."),
    ],
)
def test_what_cannot_be_worked_out_is_refused_with_a_hint(
    words: list[str], error: type[TriageError], said: str
) -> None:
    with pytest.raises(error) as caught:
        answer(words, {})
    assert said in str(caught.value)
