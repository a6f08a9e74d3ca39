"""Practice on the full screen: from the start page to the debrief, by what is typed alone."""

from typing import Any

from triage.present.practising.said import MARK
from triage.present.practising.views import MUST, NEXT
from triage.tui.start import StartScreen


async def begun(bench: Any, pilot: Any) -> None:
    """From the start page into an exercise, any complaint of the first level."""
    await bench.started(pilot)
    number = next(at for at, way in enumerate(pilot.app.screen._page.ways, 1) if way.words.startswith("Practice"))
    await bench.type(pilot, str(number))
    await bench.type(pilot, "1")
    await bench.type(pilot, "1")


async def test_every_screen_of_an_exercise_says_that_no_vehicle_is_to_be_touched(bench: Any) -> None:
    async with bench.app().run_test(size=(100, 40)) as pilot:
        await begun(bench, pilot)
        painted = [bench.painted(pilot.app)]
        for line in ("tree", "1", "conclude", "1 50", "0"):
            await bench.type(pilot, line)
            painted.append(bench.painted(pilot.app))
        assert all(MARK in one for one in painted)
        assert NEXT in painted[0]
        assert "DEBRIEF" in painted[-1]
        assert bench.practised[-1] == "debriefed"
        await bench.type(pilot, "leave")
        assert isinstance(pilot.app.screen, StartScreen)


async def test_several_numbers_are_typed_before_a_vehicle_state(bench: Any) -> None:
    async with bench.app().run_test(size=(100, 40)) as pilot:
        await begun(bench, pilot)
        for _ in range(12):
            if MUST in bench.painted(pilot.app):
                break
            await bench.type(pilot, "tree" if NEXT in bench.painted(pilot.app) else "1")
        await bench.type(pilot, "1 2 3")
        assert "Rightly named" in bench.painted(pilot.app) or "SAFETY" in bench.painted(pilot.app)


async def test_escape_leaves_it_and_nothing_of_the_truth_is_said(bench: Any) -> None:
    async with bench.app().run_test(size=(100, 40)) as pilot:
        await begun(bench, pilot)
        await pilot.press("escape")
        await bench.settle(pilot)
        assert isinstance(pilot.app.screen, StartScreen)
        assert bench.practised == ["begun", "left"]


async def test_a_job_that_stands_keeps_practice_from_beginning(bench: Any) -> None:
    from triage.errors import CommandRefused

    def refused(*_: object) -> Any:
        raise CommandRefused("A job stands made safe at a vehicle: R-7.", "Pause it first.")

    bench.practise = refused
    async with bench.app().run_test(size=(100, 40)) as pilot:
        await begun(bench, pilot)
        assert "A job stands made safe" in bench.painted(pilot.app)
        assert bench.practised == []
