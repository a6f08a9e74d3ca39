"""The reply to an answer: what it changed, why the next thing comes, and what does not go together."""

from dataclasses import replace
from typing import Any

import pytest
from hands import lines_for

from triage.app.advising.adviser import AllAlong
from triage.app.job import start
from triage.app.opening import Opening
from triage.app.respondent import Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.present.answers.replying import replied
from triage.present.steps.shares import AT_ODDS
from triage.present.typing.exchange import Exchange


@pytest.fixture
def chirp(knowledge: Knowledge) -> Exchange:
    """At the first question, with somebody who says what each answer makes likely."""
    now = iter(range(1_767_225_600_000, 1_767_226_600_000, 10))
    opening = Opening(symptom="belt-chirp", job="j", who="Ana")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(now), None, adviser=AllAlong())
    exchange = Exchange(job)
    for line in ("none", "solid", "unknown", "4"):
        exchange.take(line)
    exchange.weigh()
    return exchange


def aside(exchange: Exchange) -> str:
    reply = exchange.weigh()
    return " ".join(reply.aside) if reply else ""


def until(exchange: Exchange, check: str) -> None:
    for _ in range(100):
        job = exchange.job
        if job.state.step.check == check and job.state.step.kind == "check":
            return
        command = Respondent().answer(job.knowledge, job.state, job.clock())
        for line in lines_for(job.knowledge, command, job.state.step):
            exchange.take(line)
        exchange.weigh()
    raise AssertionError(f"{check} is never asked")


def test_what_an_answer_makes_likelier_is_said_with_both_figures_and_why_the_next_thing_comes(chirp: Exchange) -> None:
    until(chirp, "recent-work")
    chirp.take("3")
    said = aside(chirp)
    assert "Pulley out of line is likelier: " in said
    assert " before, " in said
    assert "Next, Whether it was there before the work: What came with the work lies in what was fitted" in said


def test_it_is_said_once_and_behind_nothing_else(chirp: Exchange) -> None:
    chirp.take("1")
    assert aside(chirp)
    assert not aside(chirp)
    chirp.take("why")
    assert not aside(chirp)


def test_the_figures_are_those_of_the_ranking(chirp: Exchange, knowledge: Knowledge) -> None:
    before = chirp.job.state
    ranks: Any = ({"belt-worn": 0.2, "pulley-misaligned": 0.5}, {"belt-worn": 0.6, "pulley-misaligned": 0.45})
    assert replied(knowledge, before, before, ranks) == ("Belt worn is likelier: 20 % before, 60 % now.",)
    little: Any = ({"belt-worn": 0.2}, {"belt-worn": 0.21})
    assert replied(knowledge, before, before, little) == ("That changes little: Belt worn is the likeliest, 21 %.",)


def test_a_check_that_came_to_something_else_before_is_said_aloud(chirp: Exchange, knowledge: Knowledge) -> None:
    until(chirp, "recent-work")
    before = chirp.job.state
    chirp.take("3")
    after = chirp.job.state
    was = replace(after.findings["recent-work"], outcomes=("none",))
    before = replace(before, findings={**before.findings, "recent-work": was})
    (line,) = (one for one in replied(knowledge, before, after, None) if "Which is it?" in one)
    assert line.startswith("Recent work: Nothing lately before, The alternator was renewed now.")


def test_what_was_put_right_is_no_contradiction(chirp: Exchange) -> None:
    until(chirp, "recent-work")
    chirp.take("3")
    chirp.weigh()
    for line in ("amend", "4", "1"):
        chirp.take(line)
    assert chirp.job.state.findings["recent-work"].outcomes == ("none",)
    assert "Which is it?" not in aside(chirp)


def test_findings_that_no_cause_can_have_made_are_said_aloud(chirp: Exchange, knowledge: Knowledge) -> None:
    state = chirp.job.state
    ranks: Any = ({"belt-worn": 0.2}, {})
    assert AT_ODDS in replied(knowledge, state, state, ranks)
