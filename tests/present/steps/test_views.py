"""What the interlock on screen counts, and what is said of what was carried into it."""

from typing import Any

import pytest

from triage.app.job import Job, start
from triage.app.opening import Opening
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.present.pages.session_page import happened_lines
from triage.present.said.telling import told
from triage.present.steps.views import step_view
from triage.record import events as e
from triage.session import commands as c

SECOND_MS = 1000
CARRIED = 3


class Bench:
    """A session in which everything is normal, answered a second apart."""

    def __init__(self, knowledge: Knowledge, symptom: str) -> None:
        self.now_ms = 1_772_448_000_000
        self.job: Job = start(knowledge, Opening(symptom, "R-1", "Ana"), {}, "", lambda: self.now_ms, None)
        self.do(c.AnswerGate, answer="none")
        for fact, value in (("pulley", "decoupler"), ("odometer", 1.2e8), ("cylinders", 4.0)):
            self.do(c.TellFact, fact=fact, value=value)

    def do(self, kind: type[c.Command], **given: Any) -> None:
        self.now_ms += SECOND_MS
        self.job.do(kind(at_ms=self.now_ms, who="Ana", **given))

    def go_on(self) -> bool:
        step = self.job.state.step
        if step.kind == "confirm":
            self.do(c.Confirm, confirmation=step.confirmation, name="Bo")
        elif step.kind in ("check", "result"):
            normal = self.job.knowledge.checks[step.check].normal(self.job.state.pulley)
            self.do(c.Answer, check=step.check, outcomes=(normal,))
        return step.kind in ("confirm", "check", "result")


def walked(knowledge: Knowledge) -> tuple[Bench, list[str]]:
    """A session through four states with the engine stopped, and the title of each step."""
    bench = Bench(knowledge, "belt-thrown")
    titles = []
    while True:
        titles.append(step_view(knowledge, bench.job.state).title)
        if not bench.go_on():
            return bench, titles


@pytest.fixture(scope="module")
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


@pytest.fixture(scope="module")
def thrown(shipped: Knowledge) -> tuple[Bench, list[str]]:
    return walked(shipped)


def backwards(knowledge: Knowledge) -> Knowledge:
    """The same confirmations, asked in the opposite order: what is carried stands last."""
    states = {
        state.id: state.model_copy(update={"confirmations": state.confirmations[::-1]})
        for state in knowledge.states.values()
    }
    return knowledge.model_copy(update={"states": states})


@pytest.mark.parametrize("order", ["forwards", "backwards"])
def test_the_interlock_counts_only_what_is_really_asked(shipped: Knowledge, thrown: Any, order: str) -> None:
    bench, titles = thrown if order == "forwards" else walked(backwards(shipped))
    blocks: list[list[str]] = [[]]
    for title in titles:
        if title.startswith("INTERLOCK "):
            blocks[-1].append(title.removeprefix("INTERLOCK "))
        elif blocks[-1]:
            blocks.append([])
    counted = [block for block in blocks if block]
    assert len(counted) >= 4
    for block in counted:
        assert block == [f"{number} of {len(block)}" for number in range(1, len(block) + 1)]
    asked = [event for event in bench.job.events if isinstance(event, e.ThingConfirmed)]
    assert sum(map(len, counted)) == sum(not event.confirmation.startswith("in-hand-") for event in asked)


def test_the_page_says_from_when_what_was_carried_stands(thrown: Any) -> None:
    job = thrown[0].job
    lines = happened_lines(job.knowledge, job.events)
    first = next(line for line in lines if "confirmed: Parking brake is on and holds." in line)
    carried = [line for line in lines if "carried from " in line]
    assert len(carried) == sum(isinstance(event, e.ThingsCarried) for event in job.events) > 1
    for line in carried:
        assert f"carried from {first.split()[0]}: Parking brake is on and holds." in line
        assert line.count("carried from ") == CARRIED
        assert "To be confirmed for: " in lines[lines.index(line) - 1]


def test_whoever_confirms_is_told_what_still_holds(thrown: Any) -> None:
    job = thrown[0].job
    carried = next(event for event in job.events if isinstance(event, e.ThingsCarried))
    said = told(job.knowledge, (carried,))
    assert said[0] == "Still holds: Parking brake is on and holds."
    assert len(said) == CARRIED
