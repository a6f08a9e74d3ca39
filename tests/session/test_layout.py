"""The layout of a vehicle's drive in a session: taken at any moment, kept in the trace, compared with counted rates."""

from typing import Any

import pytest

from triage.app.tracing import stored, to_events, to_lines
from triage.drive.layout.placement import read_layout
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record import events as e
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown
from triage.session import commands as c
from triage.session.evolving import fold

ALIKE = {"crank": 1.0, "lap": 0.25, "idler": 2.0, "steering-pump": 2.04, "water-pump": 1.5}


@pytest.fixture(scope="module")
def layout() -> Layout:
    return read_layout(trees_folder() / "layouts" / "two-pulleys.yaml")


def known(idle_rpm: float | None = 600.0) -> DriveKnown:
    return DriveKnown(
        idle_rpm=idle_rpm,
        pitch_m={"crank": 0.16},
        repeats=ALIKE,
        steady=None,
        slowing={},
        slowing_rpm_per_s=2000.0,
        reversal_rpm_per_s=None,
        longest=None,
        spring=None,
        reasons={"steady": "Not asked here."},
    )


def used(talk: Any, layout: Layout, **given: Any) -> Any:
    return talk.play(c.UseLayout, layout=layout, name="two-pulleys", known=known(**given))


def compared(talk: Any, rate_hz: float, uncertainty_hz: float, crank_rpm: float | None = None) -> Any:
    talk.play(c.CompareRate, text="typed", rate_hz=rate_hz, uncertainty_hz=uncertainty_hz, crank_rpm=crank_rpm)
    return talk.state.match


def test_a_layout_is_an_event_that_replays_to_the_same_layout(buzz: Any, layout: Layout) -> None:
    step = buzz.step
    used(buzz, layout)
    assert [type(event) for event in buzz.last] == [e.LayoutUsed]
    assert buzz.step == step
    compared(buzz, 2.5, 0.1)
    read_back = to_events(to_lines(buzz.events, 1), stored(buzz.knowledge))
    assert read_back == buzz.events
    assert fold(read_back) == buzz.state
    again = fold(read_back).layout
    assert again is not None
    assert again.layout == layout


def test_a_layout_can_be_taken_at_the_first_question_while_paused_and_after_confirmations_ran_out(
    small: Knowledge, talk: Any, layout: Layout
) -> None:
    begun = used(talk(small, "buzz"), layout)
    assert begun.step.kind == "gate"
    paused = talk(small, "buzz").told().play(c.Pause)
    assert used(paused, layout).state.layout is not None
    aged = talk(small, "buzz-apart").told().enter().wait(24 * 60)
    assert used(aged, layout).state.layout is not None
    assert not aged.state.standing


def test_a_closed_session_takes_no_layout(buzz: Any, layout: Layout) -> None:
    buzz.play(c.Close, how="without-repair", reason="customer left", off=("nothing-left",))
    assert "closed" in buzz.refuses(c.UseLayout, layout=layout, name="late", known=known())


def test_a_layout_needs_a_name(buzz: Any, layout: Layout) -> None:
    assert "name" in buzz.refuses(c.UseLayout, layout=layout, name=" ", known=known())


def test_a_rate_fits_what_comes_round_so_often_at_idle(buzz: Any, layout: Layout) -> None:
    match = compared(used(buzz, layout), 2.5, 0.1)
    assert (match.fits, match.nearest, match.crank_rpm) == (("lap",), "lap", 600.0)


def test_a_rate_that_two_parts_fit_names_both_and_what_would_part_them(buzz: Any, layout: Layout) -> None:
    match = compared(used(buzz, layout), 20.1, 0.3)
    assert match.fits == ("idler", "steering-pump")
    assert match.apart_hz == pytest.approx(0.1)


def test_a_rate_that_nothing_fits_names_the_nearest(buzz: Any, layout: Layout) -> None:
    match = compared(used(buzz, layout), 12.0, 0.1)
    assert (match.fits, match.nearest) == ((), "crank")


def test_the_speed_at_which_a_rate_was_counted_wins_over_idle(buzz: Any, layout: Layout) -> None:
    match = compared(used(buzz, layout), 5.0, 0.1, crank_rpm=1200.0)
    assert match.fits == ("lap",)


def test_without_layout_or_speed_a_rate_is_refused(buzz: Any, layout: Layout) -> None:
    given: dict[str, Any] = {"text": "typed", "rate_hz": 2.5, "uncertainty_hz": 0.1}
    assert "no layout" in buzz.refuses(c.CompareRate, **given)
    used(buzz, layout, idle_rpm=None)
    assert "idle" in buzz.refuses(c.CompareRate, **given)


@pytest.mark.parametrize("bad", [0.0, -1.0])
@pytest.mark.parametrize("which", ["rate_hz", "uncertainty_hz", "crank_rpm"])
def test_figures_that_no_rate_has_are_refused(buzz: Any, layout: Layout, which: str, bad: float) -> None:
    given: dict[str, Any] = {"text": "typed", "rate_hz": 2.5, "uncertainty_hz": 0.1, "crank_rpm": 600.0, which: bad}
    assert "more than zero" in used(buzz, layout).refuses(c.CompareRate, **given)


def test_another_layout_takes_the_place_of_the_first_and_of_its_match(buzz: Any, layout: Layout) -> None:
    compared(used(buzz, layout), 2.5, 0.1)
    used(buzz, layout)
    assert buzz.state.match is None


def test_recorded_figures_are_rounded(buzz: Any, layout: Layout) -> None:
    match = compared(used(buzz, layout), 10 / 3, 1 / 30)
    assert (match.rate_hz, match.uncertainty_hz) == (3.33333, 0.0333333)
