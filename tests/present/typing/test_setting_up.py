"""A set-up as it is shown, answered and written down."""

from itertools import count

import pytest

from triage.app.cases import Case, Recorded
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.present.pages.session_page import page_of
from triage.present.steps.views import step_view
from triage.present.text import view_lines
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask, Result
from triage.record.events import SetUpFinished
from triage.session import commands as c

CASE = Case(id="x", symptom="bearing-rumble")


@pytest.fixture
def job(knowledge: Knowledge) -> Job:
    """Before the stopped drive, on the way to pick-ups that are clipped on."""
    times = count(0, 1000)
    opening = Opening(symptom="bearing-rumble", job="j", who="Ana")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), None)
    lead(job, "set-up")
    return job


def lead(job: Job, kind: str) -> None:
    while job.state.step.kind != kind:
        command = Recorded(CASE).answer(job.knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)


def typed(job: Job, *lines: str) -> Result:
    return interpret(Typing(job.knowledge, job.state, job.clock(), job.who), lines)


def test_a_set_up_shows_its_own_steps_hazards_tools_and_vehicle_state(job: Job) -> None:
    check = job.knowledge.checks["bearing-listen"]
    view = step_view(job.knowledge, job.state)
    assert check.set_up is not None
    assert (view.title, view.steps, view.warnings) == (
        "Set up: Listen for bearings",
        check.set_up.steps,
        check.set_up.hazards,
    )
    assert (view.vehicle, [choice.id for choice in view.choices]) == (
        job.knowledge.states["stopped"].words,
        ["done", "cannot"],
    )
    assert "Tools: Clip-on vibration pick-ups with long leads" in view.facts
    assert any("1. Clip the pick-ups" in line for line in view_lines(view, 60))


def test_a_set_up_is_done_or_cannot_be_done_by_number_and_by_word(job: Job) -> None:
    for line in ("1", "done"):
        assert isinstance(typed(job, line), c.FinishSetUp)
    for line in ("2", "cannot"):
        assert isinstance(typed(job, line), Ask)
        cannot = typed(job, line, "no pick-ups")
        assert isinstance(cannot, c.CannotDo)
        assert (cannot.check, cannot.reason) == ("bearing-listen", "no pick-ups")
    with pytest.raises(CommandRefused):
        typed(job, "3")


def test_the_confirmations_before_a_set_up_say_what_they_are_for(job: Job) -> None:
    job.do(c.Pause(at_ms=job.clock(), who="Ana"))
    job.do(c.Resume(at_ms=job.clock(), who="Ana"))
    for _ in range(100):
        if "To be set up: Listen for bearings" in step_view(job.knowledge, job.state).lines:
            return
        command = Respondent().answer(job.knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    raise AssertionError("nothing says what is to be set up")


def test_the_page_of_a_session_says_that_something_was_set_up(job: Job) -> None:
    job.do(c.FinishSetUp(at_ms=job.clock(), who=Recorded.who, check="bearing-listen"))
    assert any(isinstance(event, SetUpFinished) for event in job.events)
    assert "case: set up by hand: Listen for bearings" in page_of(job.knowledge, job.events, "1-0")
