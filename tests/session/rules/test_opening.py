"""From the complaint to the first check."""

from collections.abc import Callable
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.session import commands as c
from triage.session import events as e

NONSENSE_FACTS = [
    ("pulley", "round"),
    ("pulley", 2.0),
    ("cylinders", 0.0),
    ("cylinders", 2.5),
    ("cylinders", 17.0),
    ("cylinders", "four"),
    ("cylinders", float("inf")),
    ("odometer", -1.0),
    ("odometer", float("nan")),
    ("odometer", 6e9),
    ("colour", "red"),
]


@pytest.fixture
def opened(talk: Callable[..., Any], small: Knowledge) -> Any:
    return talk(small, "buzz")


def test_a_session_opens_with_the_question_that_turns_vehicles_away(opened: Any) -> None:
    assert opened.asks == "gate"
    assert [event.kind for event in opened.events] == ["session-started", "step-offered"]


def test_nothing_but_a_start_opens_a_session_and_only_once(opened: Any, small: Knowledge) -> None:
    assert "started already" in opened.refuses(c.Start, knowledge=small, symptom="buzz", job="J-2")
    opened.state = type(opened.state)()
    assert "No session" in opened.refuses(c.Tick)
    assert "no tree" in opened.refuses(c.Start, knowledge=small, symptom="squeak", job="J-2")
    assert "job reference is empty" in opened.refuses(c.Start, knowledge=small, symptom="buzz", job=" ")


@pytest.mark.parametrize("answer", ["starter-generator", "hybrid", "high-voltage", "dont-know"])
def test_the_gate_turns_away_whatever_could_start_or_shock_by_itself(opened: Any, answer: str) -> None:
    opened.play(c.AnswerGate, answer=answer)
    assert (opened.asks, opened.state.closed) == ("closed", "turned-away")
    assert opened.happened(e.SessionClosed)[0].reason == answer
    assert "closed" in opened.refuses(c.AnswerGate, answer="none")
    assert "closed" in opened.refuses(c.Tick)


def test_the_gate_takes_only_its_answers_and_only_once(opened: Any) -> None:
    assert "not one of the answers" in opened.refuses(c.AnswerGate, answer="maybe")
    assert "not what is asked" in opened.refuses(c.TellFact, fact="pulley", value=None)
    opened.play(c.AnswerGate, answer="none")
    assert opened.asks == "fact pulley"
    assert "not what is asked" in opened.refuses(c.AnswerGate, answer="hybrid")


def test_the_facts_are_asked_in_order_and_may_be_unknown(opened: Any) -> None:
    opened.play(c.AnswerGate, answer="none")
    assert "not what is asked" in opened.refuses(c.TellFact, fact="cylinders", value=4.0)
    opened.play(c.TellFact, fact="pulley", value=None)
    assert (opened.asks, opened.state.pulley) == ("fact odometer", "unknown")
    opened.play(c.TellFact, fact="odometer", value=None).play(c.TellFact, fact="cylinders", value=None)
    assert opened.asks == "check heard"


@pytest.mark.parametrize(("fact", "value"), NONSENSE_FACTS)
def test_a_fact_that_cannot_be_is_refused(buzz: Any, fact: str, value: Any) -> None:
    buzz.refuses(c.TellFact, fact=fact, value=value)


def test_a_fact_told_anew_ends_the_confirmations_and_the_conclusion(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    assert buzz.state.concluded.causes == ("belt-torn",)
    buzz.play(c.TellFact, fact="pulley", value="solid")
    assert [event.because for event in buzz.happened(e.InterlockLapsed)] == ["corrected"]
    assert len(buzz.happened(e.ConclusionReached)) == 2
    buzz.play(c.BeginRemedy)
    assert "facts stand" in buzz.refuses(c.TellFact, fact="pulley", value=None)
