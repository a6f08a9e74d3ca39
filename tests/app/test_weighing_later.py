"""Whether checks still pay is weighed after an answer, or later; what is recorded is the same."""

from itertools import count
from pathlib import Path
from typing import Any

import pytest

from triage.app.advising import adviser
from triage.app.advising.advice import turning_point
from triage.app.cases import Case, Recorded, read_cases
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.respondent import Asked, Respondent
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Check, Knowledge
from triage.knowledge.shipped import trees_folder
from triage.record.events import AdviceGiven
from triage.session import commands as c
from triage.session.state import State
from triage.store import TraceWriter

MOST_COMMANDS = 400


def begun(knowledge: Knowledge, case: Case, folder: Path) -> Job:
    times = count(0, 10)
    opening = Opening(symptom=case.symptom, job="j", who="Ana")
    writer = TraceWriter.create(folder, case.id)
    return start(knowledge, opening, accuracies(knowledge, Shop()), "", lambda: next(times), writer)


def walked(job: Job, case: Case, **how: bool) -> list[dict[str, Any]]:
    """Live through a case to its conclusion."""
    for _ in range(MOST_COMMANDS):
        command = Recorded(case).answer(job.knowledge, job.state, job.state.last_ms)
        if command is None or job.state.concluded:
            break
        job.do(command, **how)
    job.leave()
    return [{"kind": event.kind, **event.model_dump(mode="json")} for event in job.events]


@pytest.mark.parametrize("symptom", ["bearing-rumble", "belt-chirp", "low-charge"])
def test_what_is_weighed_later_stands_at_the_same_place_in_the_trace(
    knowledge: Knowledge, tmp_path: Path, symptom: str
) -> None:
    case = read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)[0]
    at_once = walked(begun(knowledge, case, tmp_path / "at-once"), case)
    later = walked(begun(knowledge, case, tmp_path / "later"), case, advise=False)
    assert later == at_once


def test_weighing_waits_until_it_is_asked_for_and_is_done_once(
    knowledge: Knowledge, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = read_cases(trees_folder() / "cases" / "belt-chirp.yaml", knowledge)[0]
    job = begun(knowledge, case, tmp_path)
    weighed: list[int] = []

    def weigh(knowledge: Knowledge, state: State, at_ms: int) -> c.Advise | None:
        weighed.append(at_ms)
        return turning_point(knowledge, state, at_ms)

    monkeypatch.setattr(adviser, "turning_point", weigh)
    while not job.state.findings:
        command = Recorded(case).answer(job.knowledge, job.state, job.state.last_ms)
        assert command is not None
        happened = job.do(command, advise=False)
    assert not any(isinstance(event, AdviceGiven) for event in happened)
    assert weighed == []
    job.advise()
    assert command is not None
    assert weighed == [command.at_ms]
    assert job.advise() == ()
    job.do(c.Note(at_ms=job.clock(), who="Ana", text="x"))
    assert len(weighed) == 1
    job.leave()


def test_what_the_program_asks_itself_is_never_a_refusal_of_what_was_typed(
    knowledge: Knowledge, tmp_path: Path
) -> None:
    case = next(one for one in read_cases(trees_folder() / "cases" / "belt-chirp.yaml", knowledge) if one.cause)
    job = begun(knowledge, case, tmp_path)
    somebody, told = Repairing(case), False
    for _ in range(MOST_COMMANDS):
        command = somebody.answer(job.knowledge, job.state, job.state.last_ms)
        if command is None:
            break
        # A part's age may be told at any moment: also in the middle of the repair, where nothing is weighed.
        if job.state.stage == "working" and not told:
            told = True
            part = job.state.step.part or next(one for one in job.knowledge.remedies.values()).parts[0].id
            job.do(c.TellRenewal(at_ms=job.state.last_ms, who="Ana", part=part, odometer_m=0.0))
        job.do(command)
    assert told
    assert any(event.kind == "work-finished" for event in job.events)
    assert job.state.closed
    job.leave()


class Repairing(Recorded):
    """Repairs what was concluded, and proves it."""

    def told(self, asked: Asked) -> str | float | None:
        return {"odometer": 1e8}.get(asked.step.fact) or super().told(asked)

    def to_conclusion(self, asked: Asked) -> c.Command | None:
        return Respondent.to_conclusion(self, asked)

    def found(self, asked: Asked, check: Check) -> c.Command:
        return Respondent.found(self, asked, check) if asked.step.proving else super().found(asked, check)
