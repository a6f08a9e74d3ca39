"""Windows that are too small for a step: nothing that must be read is taken unless all of it was on the screen."""

import re
from typing import Any

import pytest
from textual import events

from triage.app.cases import Case, read_cases
from triage.app.opening import Opening
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.shapes import Choice, StepView
from triage.present.steps.making_safe import ASK, OPEN
from triage.present.steps.views import PART_CHOICES, choices_of, step_view
from triage.record.steps import Step
from triage.session.stepping import CARD_LINES
from triage.tui.session.session_screen import SessionScreen
from triage.tui.session.step_layout import BESIDE_COLUMNS, Asked, lay

SMALL = [(40, 12), (60, 10), (40, 8), (30, 5), (20, 4), (12, 3)]
ROOMY = (80, 24)
FRAME = dict.fromkeys(map(ord, "│║┃╔╗╚╝═╭╮╰╯─┏┓┗┛━▁▂▃▄▅▆▇█"))


def squeezed(text: str) -> str:
    """Text without the folds, borders and blanks that a screen puts into it."""
    return "".join(text.translate(FRAME).split())


def at_confirmation(step: Step) -> bool:
    return step.kind == "confirm"


def is_whole(bench: Any, pilot: Any) -> bool:
    """Whether title, hazards, question and answers of the step all stand on the screen now."""
    view = step_view(bench.knowledge, bench.job.state)
    painted = squeezed(bench.painted(pilot.app))
    wanted = (view.title, *view.warnings, view.ask, *(choice.words for choice in view.choices))
    return all(squeezed(text) in painted for text in wanted)


async def resize(bench: Any, pilot: Any, size: tuple[int, int]) -> None:
    await pilot.resize_terminal(*size)
    await bench.settle(pilot)


async def standing(bench: Any, pilot: Any, job: Any) -> None:
    """Open the screen of a session that stands somewhere already."""
    await bench.started(pilot)
    await bench.enter(pilot, job)


async def test_nothing_is_confirmed_unless_its_whole_card_was_on_the_screen(bench: Any) -> None:
    """Each line at every size at which its card is not whole, in vain; and then at one at which it is."""
    job = bench.lived_to(at_confirmation)
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        in_vain = 0
        for line in job.state.step.lines:
            number = job.state.step.lines.index(line) + 1
            for size in SMALL:
                await resize(bench, pilot, size)
                if is_whole(bench, pilot):
                    continue
                await bench.type(pilot, str(number))
                assert line not in job.state.standing, bench.painted(pilot.app)
                assert re.search("larger|[Mm]ake|Read on", bench.painted(pilot.app)), bench.painted(pilot.app)
                in_vain += 1
            await resize(bench, pilot, ROOMY)
            assert is_whole(bench, pilot), bench.painted(pilot.app)
            await bench.type(pilot, str(number))
            assert line in job.state.standing, bench.painted(pilot.app)
        assert in_vain


async def test_enter_with_a_line_open_takes_nothing(bench: Any) -> None:
    job = bench.lived_to(at_confirmation)
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        for typed in ("", "y", "1 2"):
            await bench.type(pilot, typed)
            assert not job.state.standing


@pytest.mark.parametrize("size", SMALL)
async def test_a_no_is_taken_in_a_window_of_any_size(bench: Any, size: tuple[int, int]) -> None:
    job = bench.lived_to(at_confirmation)
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        await resize(bench, pilot, size)
        await bench.type(pilot, "no")
        assert job.state.step.kind == "why"
        assert set(job.state.denied) >= {"cannot-roll"}


@pytest.mark.parametrize("size", SMALL)
async def test_pause_and_leave_work_in_a_window_of_any_size(bench: Any, size: tuple[int, int]) -> None:
    job = bench.lived_to(at_confirmation)
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        await resize(bench, pilot, size)
        await bench.type(pilot, "pause")
        assert job.state.paused
        await bench.type(pilot, "leave")
        assert not isinstance(pilot.app.screen, SessionScreen)


@pytest.mark.parametrize("across", [60, 40, 34])
async def test_the_size_that_is_asked_for_is_enough(bench: Any, across: int) -> None:
    job = bench.lived_to(at_confirmation)
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        await resize(bench, pilot, (across, 7))
        said = re.search(r"(\d+)\s+columns\s+by\s+(\d+)\s+rows", " ".join(bench.painted(pilot.app).split()))
        assert said, bench.painted(pilot.app)
        columns, rows = map(int, said.groups())
        await resize(bench, pilot, (columns, rows - 1))
        await bench.type(pilot, "1")
        assert not job.state.standing, bench.painted(pilot.app)
        await resize(bench, pilot, (columns, rows))
        await bench.type(pilot, "1")
        assert job.state.standing, bench.painted(pilot.app)


async def test_a_step_that_does_not_fit_is_answered_only_after_all_of_it_was_scrolled_through(bench: Any) -> None:
    job = bench.lived_to(lambda step: step.kind == "check" and step.check == "pulleys-in-sight")
    async with bench.app().run_test(size=(40, 16)) as pilot:
        await standing(bench, pilot, job)
        assert not is_whole(bench, pilot)
        before = job.state.step
        await bench.type(pilot, "1")
        assert job.state.step == before
        assert "Read on first" in " ".join(bench.painted(pilot.app).split())
        for _ in range(6):
            pilot.app.post_message(events.Key("pagedown", None))
            await bench.settle(pilot)
        await bench.type(pilot, "1")
        assert job.state.step != before, bench.painted(pilot.app)


async def test_a_look_that_lets_an_engine_run_is_not_taken_typed_ahead(bench: Any) -> None:
    job = bench.lived_to(lambda step: step.kind == "check" and step.check == "pulleys-in-sight")
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        before = job.state.step
        bench.burst(pilot.app, "1")
        await bench.settle(pilot)
        assert job.state.step == before
        await bench.type(pilot, "1")
        assert job.state.step != before


async def test_the_first_question_is_not_taken_typed_ahead(bench: Any) -> None:
    job = bench.begin(bench.knowledge, Opening(symptom="shutdown-buzz", job="J-1", who="Ada"))
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        bench.burst(pilot.app, "1")
        await bench.settle(pilot)
        assert job.state.step.kind == "gate"
        await bench.type(pilot, "1")
        assert job.state.step.kind == "fact"


@pytest.mark.parametrize(("size", "taken"), [((40, 8), False), (ROOMY, True)])
async def test_an_answer_is_put_right_only_where_its_question_was_on_the_screen(
    bench: Any, size: tuple[int, int], taken: bool
) -> None:
    job = bench.lived_to(lambda step: step.kind == "check" and step.check == "pulleys-in-sight")
    number = str(list(job.state.findings).index("belt-condition") + 1)
    before = job.state.findings["belt-condition"]
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        await bench.type(pilot, "amend", number)
        await resize(bench, pilot, size)
        await bench.type(pilot, "2")
        assert (job.state.findings["belt-condition"] != before) is taken, bench.painted(pilot.app)


@pytest.mark.parametrize("size", SMALL)
async def test_a_run_is_ended_in_a_window_of_any_size_and_the_time_left_is_in_view(
    bench: Any, size: tuple[int, int]
) -> None:
    case = next(case for case in cases_of(bench.knowledge) if case.id == "solid-buzz-nothing-found")
    job = bench.lived(case, lambda step: step.kind == "run")
    async with bench.app().run_test(size=ROOMY) as pilot:
        await standing(bench, pilot, job)
        await resize(bench, pilot, size)
        await bench.until_painted(pilot, "0:30")
        assert squeezed("0:30 Switch off") in squeezed(bench.painted(pilot.app)) or size[0] > 12
        await bench.type(pilot, "1")
        assert job.state.step.kind not in ("run", "run-over")


def cases_of(knowledge: Knowledge) -> tuple[Case, ...]:
    return read_cases(trees_folder() / "cases" / "shutdown-buzz.yaml", knowledge)


def test_every_card_fits_a_window_of_60_columns_and_24_rows(knowledge: Knowledge) -> None:
    for state in knowledge.states.values():
        asks = [knowledge.confirmations[line].ask for line in state.confirmations]
        for first in range(0, len(asks), CARD_LINES):
            choices = tuple(Choice(ask, OPEN + ask) for ask in asks[first : first + CARD_LINES])
            view = StepView("MAKE SAFE: 4 of 4 open", ASK, warnings=tuple(state.shown.values()), choices=choices)
            assert lay(Asked(view, "confirm", is_word=True), 60 - BESIDE_COLUMNS, 24).fits, (state.id, first)


def test_every_look_and_part_fits_a_window_of_60_columns_and_20_rows(knowledge: Knowledge) -> None:
    for check in knowledge.checks.values():
        choices = tuple(Choice(outcome.id, outcome.words) for outcome in check.outcomes)
        view = StepView(check.name, check.question, steps=check.steps, warnings=check.hazards, choices=choices)
        assert lay(Asked(view, "check", is_word=True), 60 - BESIDE_COLUMNS, 20).fits, check.id
    for remedy in knowledge.remedies.values():
        for part in remedy.parts:
            ask = f"{part.name}: what was really done?"
            view = StepView(remedy.name, ask, warnings=remedy.cautions, choices=choices_of(PART_CHOICES))
            assert lay(Asked(view, "part", is_word=True), 60 - BESIDE_COLUMNS, 20).fits, part.id
