"""One question, answered: what both faces say to it, and what of it the session is to keep."""

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from triage.app.asking import reading_of
from triage.errors import TriageError
from triage.knowledge.models import Check, Knowledge
from triage.listening.items import About, Finding
from triage.present.answers.ahead import how_long, next_lines, what_if
from triage.present.answers.naming import meaning_lines, where_lines
from triage.present.answers.standing import found_lines, likely_lines, sure_lines
from triage.present.answers.wishes import why_not_lines
from triage.present.pages.why import why_page
from triage.session.commands import Advise
from triage.session.state import State

if TYPE_CHECKING:
    from triage.app.job import Job

MOST = 3
"""Lines of an answer: more is a page."""


@dataclass(frozen=True)
class Question:
    """What somebody asks.

    Args:
        about: of which kind it is.
        text: as it was typed.
        check: the check on screen, or the line of a round that was picked; None where none is.
        supposed: the outcomes that it only thinks of.
    """

    about: About
    text: str
    check: Check | None = None
    supposed: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class Answered:
    """An answer, and the advice to record because it tells of it."""

    lines: tuple[str, ...]
    record: Advise | None = None


def answered(knowledge: Knowledge, state: State, question: Question, at_ms: int) -> Answered:
    """Answer a question.

    Args:
        knowledge: what the session uses.
        state: where it stands.
        question: what is asked.
        at_ms: now.
    """
    reading = reading_of(knowledge, state, READS.get(question.about, ""), at_ms)
    lines = ANSWERS[question.about](knowledge, reading.state, question)
    return Answered(tuple(lines[:MOST]), reading.record)


def answers_to(job: "Job", questions: Iterable[Question]) -> tuple[str, ...]:
    """The answers to questions; the advice that they tell of is kept, as by the pages that show it."""
    lines: tuple[str, ...] = ()
    for question in questions:
        told = answered(job.knowledge, job.state, question, job.clock())
        if told.record:
            with suppress(TriageError):  # that it cannot be saved is said beside the step
                job.do(told.record)
        lines += told.lines
    return lines


def _why(knowledge: Knowledge, state: State, question: Question) -> list[str]:
    # Of a card the first line is answered; the page has them all.
    del question
    return why_page(knowledge, state)


def _how(knowledge: Knowledge, state: State, question: Question) -> list[str]:
    del knowledge, state
    if question.check is None:
        return ["Pick a line by its number: how it is done stands there."]
    check = question.check
    if not check.steps:
        return [f"There is nothing to do for it but to answer: {check.question}"]
    return [*check.steps[: MOST - 1], " ".join(check.steps[MOST - 1 :])] if check.steps[MOST:] else [*check.steps]


def _why_not(knowledge: Knowledge, state: State, question: Question) -> list[str]:
    return why_not_lines(knowledge, state, question.text)


def _where(knowledge: Knowledge, state: State, question: Question) -> list[str]:
    del knowledge, state
    return where_lines(question.text, question.check)


def _meaning(knowledge: Knowledge, state: State, question: Question) -> list[str]:
    del state
    return meaning_lines(knowledge, question.text)


def _what_if(knowledge: Knowledge, state: State, question: Question) -> list[str]:
    return what_if(knowledge, state, question.check, question.supposed)


ANSWERS: Final = MappingProxyType[About, Callable[[Knowledge, State, Question], list[str]]](
    {
        "why": _why,
        "why-not": _why_not,
        "where": _where,
        "how": _how,
        "what-if": _what_if,
        "how-long": lambda knowledge, state, _: how_long(knowledge, state),
        "how-sure": lambda knowledge, state, _: sure_lines(knowledge, state),
        "what-likely": lambda knowledge, state, _: likely_lines(knowledge, state),
        "what-found": lambda knowledge, state, _: found_lines(knowledge, state),
        "meaning": _meaning,
        "next": lambda knowledge, state, _: next_lines(knowledge, state),
    }
)
READS: Final = MappingProxyType[About, str](
    {"what-if": "tell", "how-sure": "likely", "what-likely": "likely", "why-not": "likely"}
)
"""The pages whose figures an answer reads."""
