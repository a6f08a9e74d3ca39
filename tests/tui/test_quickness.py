"""What is painted first after an answer, and how often the screen is laid out for it."""

from collections.abc import Callable
from typing import Any

import pytest
from textual.geometry import Region
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget

from triage.app.advising import adviser
from triage.app.advising.advice import ranking_now, turning_point
from triage.present.steps.views import step_view
from triage.tui.session import side


@pytest.fixture
def layouts(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The screens that are laid out from here on."""
    names: list[str] = []
    lay_out = Screen._refresh_layout

    def counted(screen: Screen[Any], *size: Any, **more: Any) -> None:
        names.append(type(screen).__name__)
        lay_out(screen, *size, **more)

    monkeypatch.setattr(Screen, "_refresh_layout", counted)
    return names


async def at_rest(bench: Any, pilot: Any) -> None:
    """Wait for what a busy machine does late of what came before."""
    await pilot.pause(0.5)
    await bench.settle(pilot)


@pytest.fixture
def titles(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """The titles of steps that are painted from here on."""
    painted: set[str] = set()
    paint = Widget.render_lines

    def noted(widget: Widget, crop: Region) -> list[Strip]:
        if widget.border_title:
            painted.add(str(widget.border_title).strip())
        return paint(widget, crop)

    monkeypatch.setattr(Widget, "render_lines", noted)
    return painted


async def test_the_next_step_is_painted_before_causes_are_ranked_and_checks_weighed(
    bench: Any, titles: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[tuple[str, bool]] = []
    job = bench.lived_to(lambda step: step.kind == "check" and bool(bench.job.state.findings))

    def noting(what: str, work: Callable[..., Any]) -> Callable[..., Any]:
        def noted(*given: Any) -> Any:
            done.append((what, step_view(job.knowledge, job.state).title in titles))
            return work(*given)

        return noted

    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.started(pilot)
        await bench.enter(pilot, job)
        await at_rest(bench, pilot)
        before = step_view(job.knowledge, job.state).title
        assert before in titles
        monkeypatch.setattr(side, "ranking_now", noting("ranked", ranking_now))
        monkeypatch.setattr(adviser, "turning_point", noting("weighed", turning_point))
        await bench.type(pilot, "1")
        await at_rest(bench, pilot)
        assert step_view(job.knowledge, job.state).title != before
        assert done == [("ranked", True), ("weighed", True)]


async def test_a_letter_lays_nothing_out(bench: Any, layouts: list[str]) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.open_session(pilot)
        await at_rest(bench, pilot)
        layouts.clear()
        for letter in "note":
            await pilot.press(letter)
        await bench.settle(pilot)
        assert "> note" in bench.painted(pilot.app)
        assert layouts == []


async def test_a_line_lays_the_screen_out_twice_at_most(bench: Any, layouts: list[str]) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.open_session(pilot)
        for line in ("note", "a remark"):
            await at_rest(bench, pilot)
            layouts.clear()
            await bench.type(pilot, line)
            # Once for what is new, and once by the toolkit itself for what has another size now.
            assert 1 <= len(layouts) <= 2


async def test_a_long_line_is_gone_from_view_once_it_was_given(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "note", "x" * 150)
        await bench.type(pilot, "note")
        await pilot.press("y")
        await bench.settle(pilot)
        rows = bench.painted(pilot.app).splitlines()
        assert any(row.startswith(" > y") for row in rows)
