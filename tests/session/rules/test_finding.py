"""Outcomes, readings, what could not be done, and corrections."""

from collections.abc import Callable
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.audit import objections


def test_an_answer_is_one_of_the_outcomes_of_the_check_on_screen(listening: Any) -> None:
    assert "not the check on screen" in listening.refuses(c.Answer, check="belt-look", outcomes=("sound",))
    assert "not an answer" in listening.refuses(c.Answer, check="listen", outcomes=("bang",))
    assert "not an answer" in listening.refuses(c.Answer, check="listen", outcomes=())
    listening.play(c.Answer, check="listen", outcomes=("buzz",)).off()
    assert listening.step.check == "overrun-torque"


def test_several_outcomes_count_together_where_the_check_allows_it_and_the_first_leads(listening: Any) -> None:
    assert "do not go together" in listening.refuses(c.Answer, check="listen", outcomes=("quiet", "buzz"))
    assert "do not go together" in listening.refuses(c.Answer, check="listen", outcomes=("chirp", "not-sure"))
    listening.play(c.Answer, check="listen", outcomes=("chirp", "buzz", "chirp"))
    assert listening.state.findings["listen"].outcomes == ("chirp", "buzz")
    assert listening.off().step.check == "overrun-torque"


def test_one_outcome_is_given_where_the_check_has_one(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").enter()
    assert "do not go together" in buzz.refuses(c.Answer, check="belt-look", outcomes=("sound", "torn"))


def test_a_reading_becomes_the_outcome_of_its_zone(measuring: Any) -> None:
    measuring.read("overrun-torque", "2.5 N·m")
    assert measuring.state.findings["overrun-torque"].outcomes == ("stiff",)
    assert measuring.state.concluded.causes == ("pulley-stiff",)
    assert measuring.state.concluded.close_calls == ()


def test_a_reading_without_its_parts_or_of_a_check_that_has_none_is_refused(measuring: Any) -> None:
    whole = measuring.typed("overrun-torque", "2.5 N·m")
    assert "not complete" in measuring.refuses(c.Read, check="overrun-torque", parts=())
    assert "not complete" in measuring.refuses(c.Read, check="overrun-torque", parts=(*whole, *whole))
    measuring.answer("overrun-torque", "free").confirm("in-hand-cap-look")
    assert "no reading" in measuring.refuses(c.Read, check="cap-look", parts=whole)


def test_a_reading_too_close_to_call_is_taken_twice_then_follows_the_likelier_side(measuring: Any) -> None:
    measuring.read("overrun-torque", "1.51 N·m")
    assert (measuring.asks, measuring.step.attempt) == ("check overrun-torque", 2)
    assert "overrun-torque" not in measuring.state.findings
    measuring.read("overrun-torque", "1.53 N·m")
    taken = measuring.happened(e.ReadingTaken)
    assert [(reading.attempt, reading.outcome) for reading in taken] == [(1, ""), (2, "stiff")]
    # 4 % of each: the smaller reading weighs (1.53/1.51)² as much.
    assert taken[1].verdict.value == pytest.approx((1.51 * 1.53**2 + 1.53 * 1.51**2) / (1.53**2 + 1.51**2))
    assert taken[1].weighed == ("1.51 N·m", "1.53 N·m")
    assert not taken[1].verdict.settled
    assert measuring.state.concluded.close_calls == ("overrun-torque",)


def test_a_check_that_cannot_be_done_leads_on_with_its_reason(listening: Any) -> None:
    assert "reason is empty" in listening.refuses(c.CannotDo, check="listen", reason=" ")
    assert "not the check on screen" in listening.refuses(c.CannotDo, check="heard", reason="nobody there")
    listening.cannot("listen")
    assert listening.state.findings["listen"].reason == "no access"
    assert listening.off().step.check == "overrun-torque"


def test_what_is_taken_back_is_asked_again_behind_its_interlock(listening: Any) -> None:
    assert "no such finding" in listening.refuses(c.TakeBack, check="listen")
    listening.play(c.TakeBack, check="leak-look")
    listening.off()
    assert (listening.asks, listening.step.check) == ("confirm all-at-rest", "leak-look"), "the engine ran; no more"
    assert "leak-look" not in listening.state.findings


def test_a_correction_changes_the_path_by_itself(listening: Any) -> None:
    listening.play(c.Correct, check="belt-look", outcomes=("torn",)).off()
    assert listening.state.concluded.causes == ("belt-torn",)
    listening.play(c.Correct, check="belt-look", outcomes=("sound",))
    assert (listening.step.check, listening.open) == ("listen", ["started-again"]), "the engine was off in between"


def test_a_correction_to_nonsense_is_refused(measuring: Any) -> None:
    assert "no such finding" in measuring.refuses(c.Correct, check="cap-look", outcomes=("clean",))
    assert "not an answer" in measuring.refuses(c.Correct, check="belt-look", outcomes=("dirty",))
    assert "not an answer" in measuring.refuses(c.Correct, check="belt-look")
    parts = measuring.typed("overrun-torque", "2 N·m")
    assert "no reading" in measuring.refuses(c.Correct, check="belt-look", parts=parts)


def test_a_reading_is_corrected_by_a_reading(measuring: Any) -> None:
    measuring.read("overrun-torque", "2.5 N·m")
    measuring.play(c.Correct, check="overrun-torque", parts=measuring.typed("overrun-torque", "0.3 N·m"))
    assert measuring.state.findings["overrun-torque"].outcomes == ("free",)
    measuring.play(c.Correct, check="overrun-torque", parts=measuring.typed("overrun-torque", "1.5 N·m"))
    assert (measuring.step.check, measuring.step.attempt) == ("overrun-torque", 2)


# --- findings that keep the engine off
@pytest.fixture
def careless(small: Knowledge, walking: Any, talk: Callable[..., Any]) -> Any:
    """At the belt, in a tree that would go on to the running engine whatever is found."""
    return talk(walking.careless(small), "buzz").told().answer("heard", "yes-heard")


def test_a_finding_that_closes_running_shuts_it_in_any_tree_until_it_is_found_normal(careless: Any) -> None:
    careless.answer("belt-look", "torn").answer("leak-look", "dry")
    assert careless.asks == "blocked belt-look"
    assert "stays off" in careless.refuses(c.CannotDo, check="belt-look", reason="no belt")
    assert "not what is asked" in careless.refuses(c.Confirm, confirmation="bay-clear")
    assert "not what keeps" in careless.refuses(c.PutRight, check="leak-look", done="wiped")
    assert "What was done is empty" in careless.refuses(c.PutRight, check="belt-look", done="")
    careless.play(c.PutRight, check="belt-look", done="renewed the belt")
    assert careless.step.check == "belt-look"
    careless.answer("belt-look", "torn")
    assert careless.asks == "blocked belt-look"
    careless.play(c.PutRight, check="belt-look", done="renewed it again").answer("belt-look", "sound")
    assert careless.step.check == "leak-look", "what was worked on is looked at again"
    careless.answer("leak-look", "dry")
    assert (careless.step.kind, careless.step.check) == ("confirm", "listen")
    assert [right.done for right in careless.happened(e.FaultPutRight)] == ["renewed the belt", "renewed it again"]


@pytest.mark.parametrize(
    "doubt",
    [
        lambda talk: talk.play(c.PutRight, check="belt-look", done="renewed").cannot("belt-look"),
        lambda talk: talk.play(c.PutRight, check="belt-look", done="renewed").answer("belt-look", "cannot-tell"),
        lambda talk: talk.play(c.TakeBack, check="belt-look").cannot("belt-look"),
        lambda talk: talk.play(c.Correct, check="belt-look", outcomes=("cannot-tell",)),
    ],
    ids=["not looked at again", "looked at in doubt", "taken back", "corrected to a doubt"],
)
def test_what_closed_running_stays_closed_in_doubt(
    small: Knowledge, walking: Any, talk: Callable[..., Any], doubt: Any
) -> None:
    tree = walking.careless(small).trees["buzz"]
    onward = tree.nodes["belt"].model_copy(
        update={"cannot": "leak", "next": dict.fromkeys(("sound", "torn", "cannot-tell"), "leak")}
    )
    reckless = tree.model_copy(update={"nodes": {**tree.nodes, "belt": onward}})
    at_the_belt = talk(small.model_copy(update={"trees": {"buzz": reckless}}), "buzz").told()
    at_the_belt.answer("heard", "yes-heard").answer("belt-look", "torn").answer("leak-look", "dry")
    assert doubt(at_the_belt).asks == "blocked belt-look"


def test_each_of_several_closing_findings_is_put_right_by_itself(careless: Any) -> None:
    careless.answer("belt-look", "torn").answer("leak-look", "leak")
    careless.play(c.PutRight, check="belt-look", done="renewed").answer("belt-look", "sound")
    assert careless.asks == "blocked leak-look"
    careless.play(c.PutRight, check="leak-look", done="new hose").answer("leak-look", "dry")
    assert careless.answer("belt-look", "sound").step.check == "listen"


def test_a_reading_is_thrown_away_with_its_reason_and_the_one_that_is_left_decides(measuring: Any) -> None:
    measuring.read("overrun-torque", "1.51 N·m").read("overrun-torque", "4 N·m")
    assert (measuring.asks, measuring.step.attempt) == ("check overrun-torque", 3)
    assert "no such reading" in measuring.refuses(c.ThrowAway, check="overrun-torque", number=3, reason="slip")
    assert "reason" in measuring.refuses(c.ThrowAway, check="overrun-torque", number=1, reason=" ")
    measuring.play(c.ThrowAway, check="overrun-torque", number=1, reason="read the wrong scale")
    (thrown,) = measuring.happened(e.ReadingThrownAway)
    assert (thrown.text, thrown.reason) == ("1.51 N·m", "read the wrong scale")
    assert measuring.state.findings["overrun-torque"].outcomes == ("stiff",)
    assert measuring.state.first_readings == {}
    assert [one.line for one in objections(measuring.events)] == [1], "its clock begins in 1970"
    *_, last = objections((*measuring.events, thrown))
    assert "answers what was not asked then" in last.reason


def test_a_thrown_reading_whose_other_is_too_close_by_itself_is_made_once_more(measuring: Any) -> None:
    measuring.read("overrun-torque", "1.51 N·m").play(c.ThrowAway, check="overrun-torque", number=1, reason="slip")
    assert (measuring.asks, measuring.step.attempt) == ("check overrun-torque", 1)
    measuring.read("overrun-torque", "1.51 N·m").read("overrun-torque", "4 N·m")
    measuring.play(c.ThrowAway, check="overrun-torque", number=2, reason="slip")
    assert (measuring.asks, measuring.step.attempt) == ("check overrun-torque", 2)
    measuring.read("overrun-torque", "1.52 N·m")
    assert measuring.state.findings["overrun-torque"].said == "1.51 N·m and 1.52 N·m"
    assert [one.line for one in objections(measuring.events)] == [1], "its clock begins in 1970"
