"""The column beside the conversation: what the session can know, and what it cannot."""

from dataclasses import replace
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.session.state import Condition, Finding, State
from triage.tui.session.side import LIKELIEST, left_open, likely_lines, side_text, vehicle_words

RUNNING = Condition(engine="running")
IN_FORCE: dict[str, Any] = {"inside": "running", "standing": {"brake": 1}}
ON_THE_WAY: dict[str, Any] = {"standing": {"brake": 1}}


@pytest.mark.parametrize(
    ("state", "said"),
    [
        (State(), "engine not confirmed"),
        (State(**ON_THE_WAY), "engine not confirmed"),
        (State(inside="stopped", standing={"brake": 1}), "engine stopped"),
        (State(condition=RUNNING, **IN_FORCE), "engine running"),
        (State(condition=RUNNING), "engine treat as running"),
        (State(condition=RUNNING, **ON_THE_WAY), "engine treat as running"),
        (State(condition=RUNNING, run="running", **IN_FORCE), "engine running"),
        (State(condition=RUNNING, run="overdue", **IN_FORCE), "engine treat as running"),
    ],
)
def test_the_engine_is_said_to_be_what_a_confirmation_in_force_says(state: State, said: str) -> None:
    assert vehicle_words(state).startswith(f"{said},")


def test_facts_not_known_and_checks_not_done_are_left_open(knowledge: Knowledge) -> None:
    undone = Finding("belt-fit", (), 1, "Ada", reason="no lamp")
    state = State(facts={"pulley": "decoupler", "odometer": None}, findings={"belt-fit": undone})
    name = knowledge.checks["belt-fit"].name
    assert left_open(knowledge, state) == ["odometer: not known", f"{name}: not done"]


def test_likely_causes_stand_there_once_something_was_found(knowledge: Knowledge) -> None:
    found = Finding("complaint-heard", ("heard-now",), 1, "Ada")
    before = State(symptom="shutdown-buzz")
    assert likely_lines(knowledge, before) == []
    after = replace(before, findings={"complaint-heard": found})
    told = likely_lines(knowledge, after)
    assert len(told) == LIKELIEST + 1
    assert all("%" in line for line in told[:LIKELIEST])
    assert "LIKELY\n" + told[0] in side_text(knowledge, after, told)
    assert "LIKELY" not in side_text(knowledge, before, [])


def test_a_reason_passes_for_no_heading(knowledge: Knowledge) -> None:
    undone = Finding("belt-fit", (), 1, "Ada", reason="x\nLIKELY\n99 %  nothing")
    state = State(symptom="shutdown-buzz", findings={"belt-fit": undone})
    assert side_text(knowledge, state, ["5 %  x"]).count("\nLIKELY\n") == 1


def likely_on(app: Any) -> list[str]:
    """The shares of likely causes in the column."""
    text = str(app.screen.query_one("#side-text").content)
    return [line for line in text.splitlines() if line.partition(" ")[2].startswith("%")]


async def test_the_column_follows_what_is_found(bench: Any) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1", "4", "unknown", "4")
        assert likely_on(pilot.app) == []
        await bench.type(pilot, "1")
        first = likely_on(pilot.app)
        await bench.type(pilot, "1", "6")
        assert likely_on(pilot.app) != first
        await bench.type(pilot, "back")
        assert likely_on(pilot.app) == first


async def test_the_column_follows_a_fact_that_is_put_right(bench: Any) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.open_session(pilot)
        await bench.type(pilot, "1", "4", "1000 km", "4", "1", "1", "6")
        hardly_driven = likely_on(pilot.app)
        await bench.type(pilot, "vehicle")
        assert "2  Odometer: 1000 km" in bench.painted(pilot.app)
        await bench.type(pilot, "2", "400000 km")
        assert bench.job.state.facts["odometer"] == 4e8
        assert "Odometer put right: 400000 km" in bench.painted(pilot.app)
        assert likely_on(pilot.app) != hardly_driven
