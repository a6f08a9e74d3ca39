"""The words for the drive at hand, on the full screen: layout, drive, rate, tool."""

from pathlib import Path
from typing import Any

import pytest
from textual import events

from triage.tui.answer_line import AnswerLine

LAYOUT = ("layout", "four-cylinder-full")


async def with_layout(bench: Any, pilot: Any) -> None:
    """A session whose layout is taken."""
    await bench.open_session(pilot)
    await bench.type(pilot, "1", *LAYOUT)
    assert bench.job.state.layout.name == LAYOUT[1]


@pytest.mark.parametrize(("size", "room"), [((60, 20), 56), ((80, 24), 76), ((120, 40), 116)])
async def test_drawing_and_figures_of_the_drive_fit_the_screen(bench: Any, size: tuple[int, int], room: int) -> None:
    async with bench.app().run_test(size=size) as pilot:
        await with_layout(bench, pilot)
        await bench.type(pilot, "drive")
        page = pilot.app.screen
        assert max(map(len, page.lines(room))) <= room
        told = bench.painted(pilot.app)
        for _ in range(12):
            pilot.app.post_message(events.Key("pagedown", None))
            await bench.settle(pilot)
            told += bench.painted(pilot.app)
        assert all(line.strip() in told for line in page.lines(room) if line.strip())
        assert "one-way-clutch" in told
        await bench.type(pilot, "")
        assert "The vehicle" in bench.painted(pilot.app)


async def test_drive_without_a_layout_says_how_to_name_one(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "drive")
        assert 'Type "layout"' in " ".join(bench.painted(pilot.app).split())


async def test_a_rate_is_typed_with_its_spread_and_compared(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await with_layout(bench, pilot)
        await bench.type(pilot, "rate", "4.14 ± 0.05 Hz", "idle")
        assert "lap" in bench.job.state.match.fits
        assert "It fits" in bench.painted(pilot.app)


async def tap(bench: Any, pilot: Any, apart_s: float, wobble_s: float = 0.0) -> None:
    """Tap along on the panel that is open, and take the rate."""
    first = events.Key("space", " ")
    for number in range(24):
        beat = events.Key("space", " ")
        beat.time = first.time + number * apart_s + (-1) ** number * wobble_s
        pilot.app.post_message(beat)
    pilot.app.post_message(events.Key("enter", "\r"))
    await bench.settle(pilot)


@pytest.mark.parametrize("typed_before", [False, True])
async def test_a_tapped_rate_is_compared_with_its_spread(bench: Any, typed_before: bool) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await with_layout(bench, pilot)
        if typed_before:
            await bench.type(pilot, "rate")
        pilot.app.post_message(events.Key("f3", None))
        await bench.settle(pilot)
        await tap(bench, pilot, 1 / 4.14, wobble_s=0.01)
        assert "At which engine speed?" in bench.painted(pilot.app)
        await bench.type(pilot, "idle")
        match = bench.job.state.match
        assert "lap" in match.fits
        assert "±" in match.text


async def test_a_rate_tapped_during_another_question_answers_it_not(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await with_layout(bench, pilot)
        await bench.type(pilot, "note")
        pilot.app.post_message(events.Key("f3", None))
        await bench.settle(pilot)
        await tap(bench, pilot, 0.25)
        assert "Tapped: 4.00" in bench.painted(pilot.app)
        assert not bench.notes
        await bench.type(pilot, "it ticks")
        assert bench.notes == ["it ticks"]


async def test_a_tapped_rate_without_a_layout_is_said_and_changes_nothing(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "taps")
        before = len(bench.job.events)
        await tap(bench, pilot, 0.25)
        assert "no layout to compare a rate with" in bench.painted(pilot.app)
        assert len(bench.job.events) == before
        assert pilot.app.screen.query_one(AnswerLine).value == ""


@pytest.mark.parametrize("lines", [("tool", "convert", "65 ft lbs", "N·m"), ("tool", "convert; 65 ft lbs; N·m")])
async def test_a_tool_asks_for_its_values_works_them_out_and_leaves_the_step(
    bench: Any, lines: tuple[str, ...]
) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.open_session(pilot)
        step = bench.job.state.step
        for line in lines:
            await bench.type(pilot, line)
        painted = bench.painted(pilot.app)
        assert "Worked out" in painted
        assert "88.1" in painted
        await bench.type(pilot, "")
        assert bench.job.state.step == step
        assert "Before anything else" in bench.painted(pilot.app)


async def test_the_list_of_tools_can_be_read_on_a_small_screen(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "tool", "list")
        assert "convert" in "".join(pilot.app.screen.lines(56))


async def test_a_tool_answers_on_the_start_page_and_asks_again_behind_its_page(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.type(pilot, "tool")
        await bench.type(pilot, "convert", "65 parsecs", "N·m")
        assert "65 parsecs" in bench.painted(pilot.app)
        await bench.type(pilot, "", "convert", "65 ft lbs", "N·m")
        assert "88.1" in bench.painted(pilot.app)
        await bench.type(pilot, "")
        assert "Which tool?" in bench.painted(pilot.app)
        await bench.type(pilot, "")
        assert "What is to be done?" in bench.painted(pilot.app)


async def test_the_drive_of_a_layout_is_shown_from_the_start_page(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.type(pilot, "drive")
        await bench.type(pilot, "no-such-layout")
        assert "There is no layout file" in bench.painted(pilot.app)
        await bench.type(pilot, "four-cylinder-full")
        page = pilot.app.screen
        assert page.lines(56)[0] == "Layout: four-cylinder-full"
        assert max(map(len, page.lines(56))) <= 56
        pilot.app.post_message(events.Key("escape", None))
        await bench.settle(pilot)
        assert "Which layout?" in bench.painted(pilot.app)


async def test_a_drive_is_entered_from_the_start_page_and_can_be_named_from_then_on(
    bench: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.type(pilot, "layout")
        await bench.type(pilot, "160 outside; tensioner back 76 outside")
        assert "Next pulley?" in bench.painted(pilot.app)
        await bench.type(pilot, "alternator 57 outside")
        await bench.type(pilot, "")
        assert "3 alternator" not in bench.painted(pilot.app)
        await bench.type(pilot, "alternator 56")
        assert "How was the 56 mm of alternator" in bench.painted(pilot.app)
        await bench.type(pilot, "alternator 56 outside", "belt 6PK1350", "4", "done", "bay-three")
        assert pilot.app.screen.lines(56)[0] == "Layout: bay-three"
    assert (tmp_path / "layouts" / "bay-three.yaml").is_file()


async def test_a_word_that_needs_a_session_says_so_on_the_start_page(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        await bench.type(pilot, "note")
        assert '"note" answers in a session' in bench.painted(pilot.app)
        await bench.type(pilot, "nonsense")
        assert "Type a number from 1 to" in bench.painted(pilot.app)
