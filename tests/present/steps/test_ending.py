"""The step that says switch off: why, and nothing but the one answer that the engine is off."""

from typing import Any, get_args

import pytest

from triage.knowledge.models import Knowledge
from triage.present.steps.views import step_view
from triage.record import events as e
from triage.record.steps import Step
from triage.session.evolving import fold
from triage.session.state import State

STAMP: dict[str, Any] = {"at_ms": 1, "who": "Ana", "clock_ms": 1, "boot": 0}


@pytest.mark.parametrize("kind", ["switch-off", "run-over"])
@pytest.mark.parametrize(
    ("because", "said"),
    [
        ("aged", "has grown old"),
        ("clock-jumped", "The clock of this computer jumped"),
        ("corrected", "put right"),
        ("not-saved", "Nothing can be saved now"),
        ("paused", "was left"),
        ("handed-over", "handed over"),
    ],
)
def test_why_the_engine_is_to_be_switched_off_stands_before_the_question(
    knowledge: Knowledge, kind: Any, because: Any, said: str
) -> None:
    assert because in get_args(e.Because)
    lapsed = e.InterlockLapsed(**STAMP, state="running", because=because)
    offered = e.StepOffered(**STAMP, step=Step(kind=kind, state="running"))
    view = step_view(knowledge, fold((lapsed, offered), State()))
    assert said in view.lines[0]
    assert "witch" in view.ask
    assert [choice.id for choice in view.choices] == ["still"]


def test_what_was_said_not_to_be_so_is_named(knowledge: Knowledge) -> None:
    refused = e.ThingRefused(**STAMP, state="stopped", confirmation="cannot-roll", reason="it rolls")
    lapsed = e.InterlockLapsed(**STAMP, state="running", because="refused")
    offered = e.StepOffered(**STAMP, step=Step(kind="switch-off"))
    view = step_view(knowledge, fold((lapsed, refused, offered), State()))
    assert view.lines == (f"Not so: {knowledge.confirmations['cannot-roll'].ask}",)


def test_a_run_whose_time_has_ended_says_only_that(knowledge: Knowledge) -> None:
    lapsed = e.InterlockLapsed(**STAMP, state="running-belt-off", because="run-over")
    offered = e.StepOffered(**STAMP, step=Step(kind="run-over", state="running-belt-off"))
    view = step_view(knowledge, fold((lapsed, offered), State()))
    assert (view.title, view.lines) == ("TIME IS UP", ())
