"""What has ended stays ended: in a session that was closed, in time that nobody knows, in an engine that ran."""

from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.evolving import evolve
from triage.session.interlocks import is_cold, needed
from triage.session.state import State

BASE: c.Stamp = {"who": "Kim", "clock_ms": 0, "at_ms": 0, "boot": 1}
HOUR_S = 3600


@pytest.mark.parametrize("end", [c.Pause, c.Close])
def test_no_step_stands_in_a_session_that_was_closed_or_left(measuring: Any, end: type[c.Command]) -> None:
    step = measuring.step
    measuring.play(
        end, **({"how": "without-repair", "reason": "sold", "off": ("nothing-left",)} if end is c.Close else {})
    )
    forged = evolve(measuring.state, e.StepOffered(**BASE, step=step))
    assert forged.step == Step(kind="closed" if end is c.Close else "paused")


def test_time_that_nobody_knows_ends_everything(buzz: Any) -> None:
    started = buzz.answer("heard", "yes-heard").enter()
    assert started.state.ever
    started.play(c.Tick, lost=True)
    assert not started.state.ever
    assert started.asks == "confirm parking-brake"


def test_an_engine_grows_cold_from_when_it_was_switched_off(listening: Any, small: Knowledge) -> None:
    listening.wait(14).play(c.EndRun)
    off_ms, target = listening.now_ms, small.states["running-belt-off"]
    assert not is_cold(listening.state, target, off_ms + 1000 * (2 * HOUR_S - 1))
    assert is_cold(listening.state, target, off_ms + 1000 * 2 * HOUR_S)


def test_a_no_ends_the_whole_group_in_every_state(measuring: Any) -> None:
    measuring.play(c.Correct, check="belt-look", outcomes=("sound",)).answer("leak-look", "dry").confirm("leads-on")
    assert "parking-brake" in measuring.state.standing
    measuring.changed("brake-touched").no("parking-brake")
    assert "parking-brake" not in measuring.state.standing
    assert measuring.cannot("listen").asks == "confirm parking-brake", "in the next state too"


def test_a_no_ends_what_stood_of_its_group(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").enter()
    buzz.play(c.EndRun).no("started-again")
    assert buzz.state.denied == {"nobody-in", "at-the-key"}
    assert buzz.play(c.TryAgain).open == ["nobody-in", "at-the-key"], "each by itself, after a no to both"


@pytest.mark.parametrize("thing", ["belt-on", "leads-on"])
def test_what_was_said_not_to_be_so_is_asked_although_it_would_not_be(small: Knowledge, thing: str) -> None:
    state, place = State(), small.states["stopped"]
    assert thing not in needed(small, state, place, None)
    refused = evolve(state, e.ThingRefused(**BASE, state="stopped", confirmation=thing, reason="not so"))
    assert thing in needed(small, refused, place, None)
