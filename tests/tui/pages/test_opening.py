"""The questions before a session: a symptom by number or by free words, then complaint, job and name."""

from typing import Any

from textual import events

BUZZ = "buzzes for a few seconds after I turn it off"


async def asked(bench: Any, pilot: Any) -> None:
    """From the start screen to the question for the symptom."""
    await bench.started(pilot)
    await bench.type(pilot, "1")
    assert "What does the drive do?" in bench.painted(pilot.app)


async def test_free_words_are_proposed_picked_and_kept_as_the_complaint(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, BUZZ)
        painted = bench.painted(pilot.app)
        assert "These words may mean:" in painted
        assert "Buzz after switching off (fits well)" in painted
        await bench.type(pilot, "1", "J-1", "Ada")
        assert (bench.job.state.symptom, bench.job.state.words) == ("shutdown-buzz", BUZZ)


async def test_words_that_fit_nothing_are_said_so_and_the_list_still_serves(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, "my radio is broken")
        assert "Nothing in the list fits these words." in bench.painted(pilot.app)
        await bench.type(pilot, "1", "", "J-1", "Ada")
        assert bench.job.state.symptom == next(iter(bench.knowledge.trees))


async def test_none_of_the_proposals_leads_back_to_the_list_and_the_words_are_forgotten(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, BUZZ, "")
        assert "What does the drive do?" in bench.painted(pilot.app)
        await bench.type(pilot, "1")
        assert "The complaint in the customer's own words" in bench.painted(pilot.app)


async def test_other_words_can_be_tried_while_proposals_are_on_screen(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, BUZZ, "chirps like a cricket at idle")
        painted = bench.painted(pilot.app)
        assert f"{bench.knowledge.trees['belt-chirp'].name} (fits well)" in painted
        assert "Buzz after switching off" not in painted


async def test_a_number_that_is_not_there_and_words_without_end_are_refused(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, "99")
        assert "Type a number from 1 to" in bench.painted(pilot.app)
        await bench.type(pilot, "x " * 400)
        assert "a complaint has at most" in bench.painted(pilot.app)


async def test_help_says_what_this_screen_is_for(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, "help")
        assert "A session starts with a symptom" in bench.painted(pilot.app)
        await bench.type(pilot, "")
        assert "What does the drive do?" in bench.painted(pilot.app)


async def test_the_symptom_stays_in_view_and_can_be_chosen_anew(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, BUZZ, "1")
        assert "New session · Buzz after switching off" in bench.painted(pilot.app)
        for names in (["OpeningScreen"], []):
            pilot.app.post_message(events.Key("escape", None))
            await bench.settle(pilot)
            assert [type(screen).__name__ for screen in pilot.app.screen_stack[2:]] == names
        for line in ("1", "1", "2 second squeal", "J-1", "Ada"):
            await bench.type(pilot, line)
        first = next(iter(bench.knowledge.trees))
        assert (bench.job.state.symptom, bench.job.state.words) == (first, "2 second squeal")


async def test_a_single_proposal_is_picked_by_yes(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, BUZZ)
        assert "y: it is that" in bench.painted(pilot.app)
        await bench.type(pilot, "y", "J-1", "Ada")
        assert (bench.job.state.symptom, bench.job.state.words) == ("shutdown-buzz", BUZZ)


async def test_words_that_fit_nothing_leave_the_proposals_on_screen_with_their_numbers(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await asked(bench, pilot)
        await bench.type(pilot, "noise from the belt when cold", "y")
        painted = bench.painted(pilot.app)
        assert "Nothing in the list fits these words." in painted
        assert "These words may mean:" in painted
        await bench.type(pilot, "2", "J-1", "Ada")
        assert bench.job.state.symptom == "belt-chirp"
