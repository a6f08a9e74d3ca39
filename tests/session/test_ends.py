"""What has ended stays ended: in a session that was closed, in time that nobody knows, in an engine that ran."""

from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.evolving import evolve
from triage.session.interlocks import is_asked, is_cold, refusal_ends
from triage.session.state import State

BASE: c.Stamp = {"who": "Kim", "clock_ms": 0, "at_ms": 0, "boot": 1}
HOUR_S = 3600


@pytest.mark.parametrize("end", [c.Pause, c.Close])
def test_no_step_stands_in_a_session_that_was_closed_or_left(measuring: Any, end: type[c.Command]) -> None:
    step = measuring.step
    measuring.play(end, **({"how": "without-repair", "reason": "sold"} if end is c.Close else {}))
    forged = evolve(measuring.state, e.StepOffered(**BASE, step=step))
    assert forged.step == Step(kind="closed" if end is c.Close else "paused")


def test_time_that_nobody_knows_ends_what_is_asked_once_too(small: Knowledge, talk: Any) -> None:
    once = small.confirmations["parking-brake"].model_copy(update={"once": True})
    knowledge = small.model_copy(update={"confirmations": {**small.confirmations, once.id: once}})
    started = talk(knowledge, "buzz").told().answer("heard", "yes-heard").enter()
    assert started.state.ever
    started.play(c.Tick, lost=True)
    assert not started.state.ever
    assert started.asks == "confirm parking-brake"


def test_an_engine_grows_cold_from_when_it_was_switched_off(listening: Any, small: Knowledge) -> None:
    listening.wait(14).play(c.EndRun)
    off_ms, target = listening.now_ms, small.states["running-belt-off"]
    assert not is_cold(listening.state, target, off_ms + 1000 * (2 * HOUR_S - 1))
    assert is_cold(listening.state, target, off_ms + 1000 * 2 * HOUR_S)


def test_a_no_to_what_was_confirmed_half_way_into_another_state_says_what_it_ends(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").confirm("parking-brake").cannot("belt-look").tick()
    assert (buzz.asks, buzz.step.state) == ("confirm parking-brake", "isolated")
    buzz.play(c.RefuseConfirmation, confirmation="parking-brake", reason="it does not hold")
    assert [(event.state, event.because) for event in buzz.happened(e.InterlockLapsed)] == [("stopped", "refused")]


def test_a_no_ends_a_state_that_lists_the_thing_although_it_was_not_asked_for_it(buzz: Any, small: Knowledge) -> None:
    inside = buzz.answer("heard", "yes-heard").enter().state
    assert inside.live.entered
    assert "belt-on" not in inside.live.confirmed, "the belt was never off"
    assert refusal_ends(small, inside, "belt-on")
    assert not refusal_ends(small, inside, "bay-clear")


def test_what_was_said_not_to_be_so_is_asked_although_it_would_not_be(small: Knowledge) -> None:
    once = small.confirmations["parking-brake"].model_copy(update={"once": True})
    knowledge = small.model_copy(update={"confirmations": {**small.confirmations, once.id: once}})
    for thing in ("belt-on", once.id):
        state = State(ever=frozenset({once.id}))
        assert not is_asked(knowledge, thing, state)
        refused = evolve(state, e.ThingRefused(**BASE, state="stopped", confirmation=thing, reason="not so"))
        assert is_asked(knowledge, thing, refused)
        assert thing not in refused.ever
