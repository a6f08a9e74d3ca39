"""From the complaint to the facts of the vehicle."""

from collections.abc import Callable
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.lengths import LONGEST_TEXT


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
    endless = {"job": "J-2", "words": "x" * (LONGEST_TEXT + 1)}
    assert "complaint is too long" in opened.refuses(c.Start, knowledge=small, symptom="buzz", **endless)


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
