"""Whole jobs as careful people do them: with time for each check, and somebody else at the key."""

from collections.abc import Callable
from typing import Any

import pytest

from triage.app.cases import Case, Recorded, read_cases
from triage.app.counting import rest_of_job
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Asked
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record import events as e
from triage.session import commands as c

CARD_MS = 6_000
Lived = Callable[..., tuple[e.Event, ...]]


class Careful(Recorded):
    """Answers as a case says, with its units, as Ada; Mira is at the key."""

    who, names = "Ada", "Mira"

    def found(self, asked: Asked, check: Check) -> c.Command:
        """As the case says; a reading with the unit that it was typed with."""
        return super().found(asked, check)


def lived(knowledge: Knowledge, case: Case, spoil: Callable[[Job, Any], None] | None = None) -> Job:
    """A case lived through to its conclusion, with the minutes that each check takes."""
    now = [1_780_000_000_000]
    opening = Opening(symptom=case.symptom, job="R-7", who="Ada")
    job = start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: now[0], None)
    person = Careful(case)
    for _ in range(2000):
        step = job.state.step
        check = knowledge.checks.get(step.check)
        wait = check.minutes * 60_000 if check and step.kind in ("check", "round", "result") else CARD_MS
        now[0] += int(wait)
        if spoil:
            spoil(job, now)
        job.do(c.Tick(at_ms=now[0], who="Ada"))
        command = person.answer(knowledge, job.state, now[0])
        if command is None:
            return job
        now[0] = max(now[0], command.at_ms)
        job.do(command)
    raise AssertionError("it does not end")


@pytest.fixture(scope="session")
def living(knowledge: Knowledge) -> Callable[..., Job]:
    """A recorded case by its symptom and id, lived through."""

    def live(symptom: str, name: str = "", spoil: Any = None) -> Job:
        cases = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)
        return lived(knowledge, next(one for one in cases if name in ("", one.id)), spoil)

    return live


def whole(knowledge: Knowledge, job: Job) -> tuple[e.Event, ...]:
    """The same with a repair that cured it."""
    return (*job.events, *rest_of_job(knowledge, job.state))
