"""What is typed to a measuring check, in tests/typed: every line on the card and, where it is one, as a correction too.

The rows were written down before the parsing was; a third of them was kept aside until the rest was done.
"""

from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path
from typing import Any

import pytest
import yaml

from triage.app.job import Job
from triage.errors import QuantityUnclear, TriageError
from triage.knowledge.models import Knowledge
from triage.present.said.entries import said
from triage.present.said.telling import told
from triage.present.typing.interpreting import Typing, interpret
from triage.present.typing.results import Ask
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.evolving import fold
from triage.session.rules import finding, repairing
from triage.session.state import Finding, State

TYPED = Path(__file__).parents[2] / "typed"
SETS = ("tuning", "held-out")


def rows(kind: str) -> list[dict[str, Any]]:
    return [row for name in SETS for row in yaml.safe_load((TYPED / f"{name}.yaml").read_text("utf-8"))[kind]]


def name_of(row: dict[str, Any]) -> str:
    return f"{row['check']}: {' | '.join(row['typed'])}"


@dataclass(frozen=True)
class Came:
    """What became of lines: taken, asked or refused; the outcome, and what was said."""

    result: str
    outcome: str
    said: str


def came_of(knowledge: Knowledge, state: State, *lines: str) -> tuple[Came, State]:
    """Type lines for one answer."""
    times = count(1000)
    try:
        command = interpret(Typing(knowledge, state, next(times), "Ana"), lines)
        if isinstance(command, Ask):
            return Came("asked", "", command.question), state
        if isinstance(command, c.Correct):
            events = finding.correct(knowledge, state, command)
        elif isinstance(command, c.Read):
            events = finding.read(knowledge, state, command)
        else:
            assert isinstance(command, c.Answer)
            events = finding.answer(knowledge, state, command)
    except QuantityUnclear as error:
        return Came("asked", "", f"{error.message} {error.hint}"), state
    except TriageError as error:
        return Came("refused", "", f"{error.message} {error.hint}"), state
    after = fold(events, state)
    last = events[-1]
    aloud = "\n".join(told(knowledge, events))
    if not isinstance(last, e.ReadingTaken):
        assert isinstance(last, e.CheckAnswered)
        return Came("taken", last.outcomes[0], aloud), after
    attempt = len(after.first_readings.get(last.check, ())) + 1
    came = Came("asked" if last.apart and not last.outcome else "taken", last.outcome, aloud)
    return came, replace(after, step=after.step.model_copy(update={"attempt": attempt}))


def on_card(job: Job, check: str) -> State:
    return replace(job.state, step=Step(kind="check", check=check, state=job.knowledge.checks[check].state))


def holds(came: Came, row: dict[str, Any]) -> None:
    assert came.result == row["result"], came
    assert row.get("outcome") in (None, came.outcome), came
    for words in row.get("says", ()):
        assert words in came.said
    for words in row.get("without", ()):
        assert words not in came.said


@pytest.mark.parametrize("row", rows("readings"), ids=name_of)
def test_on_the_card(job: Job, row: dict[str, Any]) -> None:
    state, came = on_card(job, row["check"]), Came("", "", "")
    for line in row["typed"]:
        came, state = came_of(job.knowledge, state, line)
    holds(came, row)


@pytest.mark.parametrize("row", [row for row in rows("readings") if len(row["typed"]) == 1], ids=name_of)
def test_as_a_correction(job: Job, row: dict[str, Any]) -> None:
    check = row["check"]
    before = Finding(check, (job.knowledge.checks[check].outcomes[0].id,), 0, "Ana")
    came, _ = came_of(job.knowledge, replace(job.state, findings={check: before}), "amend", "1", row["typed"][0])
    holds(came, row)


@pytest.mark.parametrize("row", rows("torques"), ids=lambda row: f"{row['typed']} beside {row['figure']}")
def test_a_torque_beside_its_figure(job: Job, row: dict[str, Any]) -> None:
    state = replace(job.state, step=Step(kind="torque", torque="pulley-hub", state="stopped"))
    lines = ("the part's sheet", row["figure"], row["typed"])
    typing = Typing(job.knowledge, state, 1000, "Ana")
    came = interpret(typing, lines)
    assert isinstance(came, Ask)
    asked = "With which wrench" not in came.question
    assert ("asked" if asked else "taken") == row["result"], came.question
    command = interpret(typing, (*lines, *(("yes",) if asked else ()), "wrench 3"))
    assert isinstance(command, c.RecordTorque)
    (event,) = repairing.record_torque(job.knowledge, state, command)
    assert isinstance(event, e.TorqueRecorded)
    assert event.off == asked
    record = said(job.knowledge, event).words
    assert ("OFF ITS FIGURE" in record) == asked
    for words in row["says"]:
        assert words in (came.question if asked else record)
