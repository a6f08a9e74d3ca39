"""Advice goes beside a session: with an adviser or without, the same is asked, answered and concluded."""

import pytest

from triage.app.advising.adviser import Adviser
from triage.app.cases import Recorded, read_cases, walk_case
from triage.app.job import Job
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.events import AdviceGiven, CostsWeighed, Event
from triage.session import commands as c

ADVICE = (AdviceGiven, CostsWeighed)


def without_advice(events: tuple[Event, ...]) -> list[Event]:
    return [event for event in events if not isinstance(event, ADVICE)]


@pytest.mark.parametrize("symptom", ["shutdown-buzz", "bearing-rumble"])
def test_a_silent_adviser_leaves_out_the_advice_and_nothing_else(
    knowledge: Knowledge, silent: Adviser, symptom: str
) -> None:
    case = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)[0]
    used = accuracies(knowledge, Shop())
    _, advised = walk_case(knowledge, case, used)
    _, unadvised = walk_case(knowledge, case, used, adviser=silent)
    assert without_advice(advised.events) == list(unadvised.events)
    assert len(advised.events) > len(unadvised.events)


def test_a_job_runs_without_an_adviser(knowledge: Knowledge) -> None:
    times = iter(range(0, 10**9, 1000))
    case = read_cases(trees_folder() / "cases" / "shutdown-buzz.yaml", knowledge)[0]
    job = Job(knowledge, None, lambda: next(times), "Ana")
    job.do(c.Start(at_ms=job.clock(), who="Ana", knowledge=knowledge, symptom=case.symptom, job="J-1"))
    while not job.state.concluded:
        command = Recorded(case).answer(knowledge, job.state, job.clock())
        assert command is not None
        job.do(command)
    assert job.advise() == ()
    assert without_advice(job.events) == list(job.events)
