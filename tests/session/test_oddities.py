"""What a session says is odd about itself before it is signed off, and what it says was left open."""

from dataclasses import replace
from typing import Any

import pytest

from tests.session.test_proving import CHIRP, Somebody, walked
from triage.app.respondent import Asked
from triage.knowledge.models import Check, Knowledge
from triage.present.pages.session_page import page_of
from triage.present.steps.views import step_view
from triage.present.typing.interpreting import Typing, interpret
from triage.record.payloads import Counsel, TorqueDone
from triage.session import commands as c
from triage.session.left_open import not_tested
from triage.session.oddities import oddities


class Slow(Somebody):
    """Takes the time that hands take."""

    def found(self, asked: Asked, check: Check) -> c.Command:
        command = super().found(asked, check)
        at_ms = command.at_ms + round(check.minutes * 60_000)
        return command.model_copy(update={"at_ms": at_ms, "clock_ms": at_ms})


def kinds(talk: Any) -> list[str]:
    return [one.kind for one in oddities(talk.knowledge, talk.state)]


def lines_of(talk: Any) -> tuple[str, ...]:
    return step_view(talk.knowledge, talk.state).lines


@pytest.fixture
def proved(talk: Any, shipped: Knowledge) -> Any:
    return walked(talk(shipped, "belt-chirp"), Slow(CHIRP, {}), "prove")


def test_a_job_done_by_hands_in_their_time_has_nothing_odd_about_its_checks(proved: Any) -> None:
    assert proved.step.proof == "proved-gone"
    assert "hasty" not in kinds(proved)


def test_answers_faster_than_hands_and_lines_faster_than_eyes_are_said(talk: Any, shipped: Knowledge) -> None:
    fast = walked(talk(shipped, "belt-chirp"), Somebody(CHIRP, {}), "prove")
    assert "hasty" in kinds(fast)
    assert any("faster than hands" in line for line in lines_of(fast))
    fast.state = replace(fast.state, quick=7)
    assert "7 lines of the cards were answered faster than anybody reads." in lines_of(fast)[-1]


def test_a_part_that_was_left_and_a_torque_that_is_missing_are_said(proved: Any) -> None:
    part = proved.state.parts_done[0].model_copy(update={"done": "left"})
    torque = TorqueDone(torque="idler-bolt", value_nm=None, text="no wrench", wrench="", reference="")
    proved.state = replace(proved.state, parts_done=(part,), torques_done=(torque,))
    assert {"part-left", "no-torque"} <= set(kinds(proved))
    assert any("was left as it is" in line for line in lines_of(proved))
    assert any("no torque (no wrench)" in line for line in lines_of(proved))


@pytest.mark.parametrize(("stands", "odd"), [("carried", False), ("not-carried", True), ("contradicted", True)])
def test_a_repair_against_the_findings_is_said(proved: Any, stands: Any, odd: bool) -> None:
    proved.state = replace(proved.state, counsel=Counsel(likely=(), stands=stands))
    assert ("against" in kinds(proved)) == odd


def test_a_reading_too_close_to_call_is_said(proved: Any) -> None:
    proved.state = replace(proved.state, concluded=replace(proved.state.concluded, close_calls=("alignment",)))
    assert any("too close to call" in line for line in lines_of(proved))


def test_the_page_says_all_of_it_and_the_proof_first(talk: Any, shipped: Knowledge) -> None:
    fast = walked(talk(shipped, "belt-chirp"), Somebody(CHIRP, {}), "prove").play(c.Close, how="signed-off")
    page = page_of(fast.knowledge, fast.events, "1-abc")
    assert page.splitlines()[0] == "Complaint: proved gone."
    assert "Odd about this session" in page


class Covered(Somebody):
    """Cannot see the mounting."""

    def to_check(self, asked: Asked) -> c.Command | None:
        if asked.step.check == "mounting":
            return c.CannotDo(**asked.given, check="mounting", reason="cover in the way")
        return super().to_check(asked)


def test_a_look_that_could_not_be_made_is_named_at_the_end_with_what_it_opens(talk: Any, shipped: Knowledge) -> None:
    job = walked(talk(shipped, "belt-squeal"), Covered({}, {}), "conclusion")
    assert not job.state.concluded.causes
    view = step_view(job.knowledge, job.state)
    name = shipped.checks["mounting"].name
    assert f"Not made: {name} (cover in the way). Made, it lets the engine run." in view.lines
    choice = next(at for at, one in enumerate(view.choices, 1) if one.words == f"Make it now: {name}")
    command = interpret(Typing(job.knowledge, job.state, job.now_ms + 1000, "Kim"), (str(choice),))
    assert isinstance(command, c.TakeBack)
    job.give(command)
    assert walked(job, Somebody({}, {}), "check", check="mounting").step.check == "mounting"


def test_no_end_without_a_cause_has_but_one_way_on(talk: Any, shipped: Knowledge) -> None:
    never = Somebody({"complaint-heard": "not-now", "provoked": "does-not-come"}, {})
    job = walked(talk(shipped, "belt-squeal"), never, "conclusion")
    assert len(step_view(job.knowledge, job.state).choices) > 1
    assert any(line.startswith("Tell the customer: ") for line in lines_of(job))


def test_a_test_that_waits_for_the_complaint_is_named(talk: Any, shipped: Knowledge) -> None:
    job = walked(talk(shipped, "belt-chirp"), Somebody({"complaint-now": "absent"}, {}), "conclusion")
    assert "water-mist" in not_tested(job.knowledge, job.state)
    assert job.state.concluded.causes or any("Not tested" in line for line in lines_of(job))
