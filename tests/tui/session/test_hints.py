"""Which steps one key answers, and what the screen says about it."""

from dataclasses import replace
from typing import get_args

import pytest

from triage.knowledge.models import Knowledge
from triage.present.shapes import Choice, StepView
from triage.record.steps import Step
from triage.session.state import State
from triage.tui.session.hints import hint, named_answer, one_key_answers, preview

TWO = (Choice("a", "First"), Choice("b", "Second"))
VIEW = StepView("Title", "Question?", choices=TWO)
KINDS = get_args(Step.model_fields["kind"].annotation)


def at(kind: str, check: str = "") -> State:
    return State(symptom="shutdown-buzz", step=Step.model_validate({"kind": kind, "check": check}))


def plain(knowledge: Knowledge) -> str:
    """A check whose single answer cannot let an engine run."""
    return next(one.id for one in knowledge.checks.values() if not (one.reading or one.several or lets_run(one)))


def lets_run(check: object) -> bool:
    closing = [outcome.id for outcome in check.outcomes if outcome.closes_running]  # type: ignore[attr-defined]
    return closing not in ([], ["will-not-turn"])


def test_one_key_answers_checks_and_what_only_leads_on(knowledge: Knowledge) -> None:
    view = replace(VIEW, check=plain(knowledge))
    answered = {kind for kind in KINDS if one_key_answers(knowledge, at(kind, plain(knowledge)), view)}
    assert answered == {"check", "round", "result", "held", "blocked"}


def test_one_key_picks_a_line_of_a_round(knowledge: Knowledge) -> None:
    assert one_key_answers(knowledge, at("round"), VIEW) == len(VIEW.choices)
    assert hint(knowledge, at("round"), VIEW, "") == "1 or 2 picks a line"


def test_a_check_that_can_let_an_engine_run_takes_enter(knowledge: Knowledge) -> None:
    closing = [check for check in knowledge.checks.values() if lets_run(check)]
    assert closing
    views = [(check, replace(VIEW, check=check.id)) for check in closing]
    for kind in ("check", "round"):
        assert not any(one_key_answers(knowledge, at(kind, check.id), view) for check, view in views)


def test_several_answers_a_reading_and_ten_answers_take_enter(knowledge: Knowledge) -> None:
    several = next(check.id for check in knowledge.checks.values() if check.several)
    assert not one_key_answers(knowledge, at("check", several), replace(VIEW, check=several))
    assert not one_key_answers(knowledge, at("check", plain(knowledge)), StepView("T", "Q", choices=TWO, measured=True))
    assert not one_key_answers(knowledge, at("check", plain(knowledge)), StepView("T", "Q", choices=TWO * 5))


@pytest.mark.parametrize(
    ("kind", "view", "question", "said"),
    [
        ("gate", VIEW, "", "1 or 2, then Enter"),
        ("check", VIEW, "", "1 or 2 answers at once"),
        ("check", StepView("T", "Q", choices=TWO, measured=True), "", "Reading, or #1 to #2, then Enter"),
        (
            "check",
            StepView("T", "Q", choices=TWO, measured=True, units="N or Hz"),
            "",
            "Reading in N or Hz, or #1 to #2, then Enter",
        ),
        ("torque", StepView("T", "Q"), "", "Type it, then Enter"),
        ("run", StepView("T", "Q", choices=TWO[:1]), "", "1, then Enter"),
        ("check", VIEW, "What is to be noted?", "Type it, Enter · Enter alone goes back"),
    ],
)
def test_the_edge_says_what_to_press(knowledge: Knowledge, kind: str, view: StepView, question: str, said: str) -> None:
    seen = replace(view, check=plain(knowledge)) if kind == "check" else view
    assert hint(knowledge, at(kind, plain(knowledge)), seen, question) == said


def test_a_number_is_said_back_with_its_words_before_enter_sends_it() -> None:
    assert preview(VIEW, "", " 2 ") == "Enter: Second"
    assert preview(VIEW, "", "22") == preview(VIEW, "", "why") == "Enter sends the line"
    assert preview(VIEW, "What is to be noted?", "2") == "Enter sends the line"
    assert preview(VIEW, "", " ") == ""


def test_where_a_reading_is_taken_a_bare_number_names_no_answer() -> None:
    measured = StepView("T", "Q", choices=TWO, measured=True)
    assert (named_answer(measured, "1"), named_answer(measured, "#1")) == ("", "First")
    assert (named_answer(VIEW, "1"), named_answer(VIEW, "#1"), named_answer(VIEW, "²")) == ("First", "First", "")
