"""Why a step is asked: the reason of the place in the tree where the session stands, and of no other place."""

import pytest

from triage.app.advising.adviser import Adviser
from triage.app.cases import Recorded, read_cases
from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.app.shop.shop_file import Shop, accuracies
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.why import ASKED_FOR, why_page
from triage.present.steps.findings import say_finding
from triage.session import commands as c
from triage.session.stepping import place_of

MOST = 4
"""Cases of each symptom that are lived through."""


class Clock:
    """Ten milliseconds a look, and on to where somebody waits."""

    def __init__(self) -> None:
        self.now_ms = 1_767_225_600_000

    def __call__(self) -> int:
        self.now_ms += 10
        return self.now_ms


def begun(knowledge: Knowledge, symptom: str, adviser: Adviser | None = None) -> Job:
    opening = Opening(symptom=symptom, job="j", who="case")
    return start(knowledge, opening, accuracies(knowledge, Shop()), "", Clock(), None, adviser=adviser)


@pytest.mark.parametrize("symptom", sorted(path.stem for path in (trees_folder() / "cases").glob("*.yaml")))
def test_the_reason_is_that_of_the_place_where_the_session_stands(
    knowledge: Knowledge, silent: Adviser, symptom: str
) -> None:
    because = {node.because for node in knowledge.trees[symptom].nodes.values() if node.check and node.because}
    compared = 0
    for case in read_cases(trees_folder() / "cases" / f"{symptom}.yaml", knowledge)[:MOST]:
        job = begun(knowledge, symptom, silent)
        for _ in range(600):
            state = job.state
            place = place_of(knowledge, state)
            if state.step.kind == "check" and place.node.check == state.step.check and place.node.because:
                page = why_page(knowledge, state)
                others = because - {place.node.because, knowledge.checks[state.step.check].why}
                assert place.node.because in page, (case.id, place.node_id)
                assert not others & set(page), (case.id, place.node_id)
                compared += 1
            command = Recorded(case).answer(knowledge, state, job.clock())
            if command is None:
                break
            assert isinstance(job.clock, Clock)
            job.clock.now_ms = max(job.clock.now_ms, command.at_ms)
            job.do(command)
    assert compared > MOST


def test_what_was_found_last_on_the_way_there_is_said(knowledge: Knowledge, silent: Adviser) -> None:
    job = begun(knowledge, "shutdown-buzz", silent)
    for command in (
        c.AnswerGate(at_ms=job.clock(), who="case", answer="none"),
        c.TellFact(at_ms=job.clock(), who="case", fact="pulley", value="decoupler"),
        c.TellFact(at_ms=job.clock(), who="case", fact="odometer", value=None),
        c.TellFact(at_ms=job.clock(), who="case", fact="cylinders", value=None),
        c.Answer(at_ms=job.clock(), who="case", check="complaint-heard", outcomes=("heard-now",)),
    ):
        job.do(command)
    heard = knowledge.checks["complaint-heard"]
    words = say_finding(heard, job.state.known["complaint-heard"])
    assert f"Last found: {heard.name}: {words}." in why_page(knowledge, job.state)
    job.do(c.AskFor(at_ms=job.clock(), who="case", check="when-heard"))
    assert ASKED_FOR in why_page(knowledge, job.state)
