"""A run asked for on one line in a face, and the page that comes of it."""

import pytest

from triage.app.drive_runs import options, run_asked
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.errors import TriageError
from triage.record.layout import Layout


@pytest.fixture
def seven() -> Layout:
    return read_layout(layout_file("seven-pulleys"))


def test_a_line_names_event_pulley_fault_and_figures_in_any_order() -> None:
    line = "Slow-down; rate 4000 r/min; one way clutch; seized; arm friction 2 N·m; crank inertia 0.2"
    assert options(line) == {
        "event": "slow-down",
        "rate": "4000 r/min",
        "pulley": "one-way-clutch",
        "fault": "seized",
        "arm_friction": "2 N·m",
        "crank_inertia": "0.2",
    }
    assert options("idle; compare") == {"event": "idle", "compare": ""}


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("idle; haunted", "haunted"),
        ("idle; solid; isolator", "pulley was typed twice"),
        ("explode", "what happens"),
        ("", "what happens"),
        ("idle; rpm fast", "fast"),
        ("idle; compare; seized", "compare tries all"),
        ("idle; solid; seized", "solid pulley cannot have"),
    ],
)
def test_what_was_not_understood_is_said_before_anything_is_worked_out(seven: Layout, line: str, sentence: str) -> None:
    with pytest.raises(TriageError, match=sentence):
        run_asked(seven, "seven-pulleys", line)


@pytest.mark.parametrize("width", [56, 76, 87])
def test_the_page_of_a_run_fits_its_width(seven: Layout, width: int) -> None:
    work = run_asked(seven, "seven-pulleys", "idle; seconds 0.02; compare")()
    assert work.wait(60)
    page = work.result()
    assert callable(page)
    lines = page(width)
    assert max(map(len, lines)) <= width
    told = " ".join(lines)
    assert "decoupler pulley, as fitted: " in told
    assert "Way of the tensioner's pulley, mm" in told
