"""Questions at a step: answered in a few lines from knowledge and state, and nothing moves by them."""

from itertools import count
from typing import get_args

import pytest
from hands import lines_for

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.listening.items import About, Finding
from triage.listening.meanings import load_meanings
from triage.present.answers.ahead import leads_to, what_if
from triage.present.answers.answering import ANSWERS, MOST
from triage.present.typing.exchange import Exchange
from triage.present.typing.proposing import UNDERSTANDS
from triage.record.events import AdviceGiven
from triage.session.remaining import remaining
from triage.session.stepping import place_of

ASKED: dict[About, str] = {
    "why": "why do you ask that?",
    "why-not": "why not check the alignment first?",
    "where": "where is the tensioner?",
    "how": "how do I do that?",
    "what-if": "what if I heard it myself?",
    "how-long": "how long still?",
    "how-sure": "how sure are you?",
    "what-likely": "what do you think it is?",
    "what-found": "what was found so far?",
    "meaning": "what is a decoupler?",
    "next": "what comes next?",
}


def begun(knowledge: Knowledge, symptom: str = "belt-chirp") -> Exchange:
    times = count(1_767_225_600_000, 10)
    opening = Opening(symptom=symptom, job="j", who="Ana")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), None)
    exchange = Exchange(job)
    for line in ("none", "solid", "unknown", "4"):
        exchange.take(line)
    return exchange


def moved(job: Job) -> list[str]:
    """What happened, without advice that was shown."""
    return [event.kind for event in job.events if not isinstance(event, AdviceGiven)]


def test_there_is_an_answer_and_a_sentence_here_for_each_question() -> None:
    assert set(ANSWERS) == set(ASKED) == set(get_args(About))


@pytest.mark.parametrize("about", ASKED)
def test_a_question_is_answered_in_a_few_lines_and_moves_nothing(knowledge: Knowledge, about: About) -> None:
    exchange = begun(knowledge)
    before, step = moved(exchange.job), exchange.job.state.step
    reply = exchange.take(ASKED[about])
    assert (reply.kind, reply.mark, exchange.question) == ("go-on", "", ""), reply
    assert 1 <= len(reply.lines) <= MOST
    assert (moved(exchange.job), exchange.job.state.step) == (before, step)


def said(exchange: Exchange, line: str) -> str:
    return " ".join(exchange.take(line).lines)


def test_the_answers_say_what_was_asked(knowledge: Knowledge) -> None:
    exchange = begun(knowledge)
    assert knowledge.checks["complaint-heard"].why in said(exchange, ASKED["why"])
    assert "Alignment of the pulleys may not be made yet" in said(exchange, ASKED["why-not"])
    assert "Tensioner: on the slack side" in said(exchange, ASKED["where"])
    assert knowledge.checks["complaint-heard"].steps[0] in said(exchange, ASKED["how"])
    assert "then comes Where it was met" in said(exchange, ASKED["what-if"])
    assert "Decoupler: a one-way clutch pulley with a spring" in said(exchange, ASKED["meaning"])
    assert "Nothing has been found yet." in said(exchange, ASKED["what-found"])
    exchange.take("1")
    assert "Yes, I have met it myself" in said(exchange, ASKED["what-found"])
    exchange.take(ASKED["how-sure"])
    likeliest = knowledge.causes[exchange.job.state.likely[0].cause].name
    assert said(exchange, ASKED["what-likely"]).startswith(likeliest)


def test_what_was_said_back_still_waits_behind_a_question(knowledge: Knowledge) -> None:
    exchange = begun(knowledge)
    exchange.take("I heard it myself today")
    proposed = exchange.question
    exchange.take("why?")
    assert exchange.question == proposed
    exchange.take("")
    assert "complaint-heard" in exchange.job.state.known


def test_what_if_says_where_each_answer_really_leads(knowledge: Knowledge) -> None:
    exchange, compared = begun(knowledge), 0
    for _ in range(60):
        job, state = exchange.job, exchange.job.state
        command = Respondent().answer(knowledge, state, job.clock())
        assert command is not None
        if state.step.kind == "check" and state.stage == "finding" and not state.asked:
            check = knowledge.checks[state.step.check]
            outcome = check.normal(state.pulley)
            said_of_it = leads_to(knowledge, state, check.id, outcome)
            for line in lines_for(knowledge, command, state.step):
                exchange.take(line)
            node = place_of(knowledge, exchange.job.state).node
            names = [
                node.check and knowledge.checks[node.check].name,
                *(knowledge.causes[one].name for one in node.conclude),
            ]
            assert any(name and name in said_of_it for name in names), (check.id, said_of_it)
            compared += 1
            continue
        for line in lines_for(knowledge, command, state.step):
            exchange.take(line)
    assert compared >= 5


def test_what_if_says_that_the_engine_stays_off(knowledge: Knowledge) -> None:
    state = begun(knowledge).job.state
    lines = what_if(knowledge, state, knowledge.checks["belt-condition"], [Finding("belt-condition", "damaged")])
    assert "the engine stays off" in lines[0]


def test_less_is_left_with_every_answer_and_nothing_at_the_end(knowledge: Knowledge) -> None:
    exchange = begun(knowledge, "low-charge")
    most = remaining(knowledge, exchange.job.state).most
    first = most
    for _ in range(400):
        job = exchange.job
        if job.state.step.kind == "conclusion":
            break
        command = Respondent().answer(knowledge, job.state, job.clock())
        for line in lines_for(knowledge, command, job.state.step):
            exchange.take(line)
        left = remaining(knowledge, job.state)
        assert left.fewest <= left.most <= most
        assert left.least_min <= left.most_min
        most = left.most
    assert (remaining(knowledge, exchange.job.state).most, first > 5) == (0, True)


def test_every_word_of_the_list_is_known_by_each_of_its_names() -> None:
    meanings = load_meanings(trees_folder())
    for one in meanings.words:
        for name in one.names:
            assert meanings.named(f"What is a {name}, please?") is one, name


def test_every_part_that_a_check_asks_for_by_hand_has_a_place(knowledge: Knowledge) -> None:
    meanings = load_meanings(trees_folder())
    for check in knowledge.checks.values():
        if check.id.startswith("spin-"):
            assert meanings.named(check.question, placed=True) or meanings.named(check.name, placed=True), check.id


def test_at_a_card_a_question_is_refused_like_any_sentence(knowledge: Knowledge) -> None:
    exchange = begun(knowledge)
    while exchange.job.state.step.kind in UNDERSTANDS:
        command = Respondent().answer(knowledge, exchange.job.state, exchange.job.clock())
        for line in lines_for(knowledge, command, exchange.job.state.step):
            exchange.take(line)
    assert exchange.job.state.step.kind == "confirm"
    before = exchange.job.state
    for line in ASKED.values():
        assert exchange.take(line).mark == "NOT TAKEN"
    assert exchange.job.state == before
