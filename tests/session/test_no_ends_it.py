"""A "no" ends the thing that it is said of, in every state that lists it; a running engine is switched off first."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c

RUNNING_STEPS = ("check", "run-ready", "run", "result")


@pytest.fixture
def running(clipped: Any) -> Any:
    """The engine runs for a check without any set-up."""
    return clipped.answer("belt-look", "sound").enter()


@pytest.fixture
def approaching(running: Any) -> Any:
    """The engine is off; the next check's set-up asks for what the run has ended."""
    running.play(c.Answer, check="listen", outcomes=("quiet",)).off()
    assert running.step.state == "stopped"
    return running


def test_before_a_set_up_the_engine_is_switched_off_and_only_then_is_anything_asked(running: Any) -> None:
    running.play(c.Answer, check="listen", outcomes=("quiet",))
    assert running.step.kind == "switch-off"
    running.refuses(c.CannotDo, check="clip-listen", reason="no time")
    running.refuses(c.TryAgain)
    assert "may still be running" in running.refuses(c.Close, how="without-repair", reason="no time")
    assert running.off().happened(e.EngineOff)


def test_leaving_the_check_out_after_a_no_leads_to_no_running_check(approaching: Any) -> None:
    approaching.no("all-at-rest").cannot("clip-listen")
    assert approaching.step.kind not in RUNNING_STEPS
    assert "all-at-rest" in approaching.step.lines


def test_what_was_said_not_to_be_so_is_asked_until_it_is(approaching: Any) -> None:
    approaching.no("all-at-rest")
    assert "all-at-rest" in approaching.state.denied
    approaching.play(c.TryAgain).enter()
    assert not approaching.state.denied
    assert approaching.asks == "check clip-listen"


def test_a_no_leaves_what_it_does_not_touch(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").confirm("bay-clear")
    standing = buzz.state.standing
    assert buzz.no("nobody-in").asks == "held nobody-in"
    assert buzz.state.standing == standing
    assert buzz.play(c.TryAgain).open == ["nobody-in", "at-the-key"]


def test_a_run_that_is_too_long_asks_nothing_but_to_switch_off(listening: Any) -> None:
    listening.tick(minutes=16)
    assert listening.step.kind == "switch-off"
    listening.play(c.EndRun)
    assert (listening.asks, listening.step.state) == ("confirm started-again", "running")


def test_a_correction_that_leads_elsewhere_switches_a_running_engine_off(listening: Any) -> None:
    listening.play(c.TakeBack, check="belt-look")
    assert listening.step.kind == "switch-off"


def test_who_comes_back_to_a_running_engine_switches_it_off_first(listening: Any) -> None:
    listening.play(c.Pause).play(c.Resume)
    assert listening.step.kind == "switch-off"
    assert listening.play(c.EndRun).asks == "confirm parking-brake"


def test_the_engine_can_be_said_to_be_off_at_any_moment(listening: Any) -> None:
    listening.play(c.EndRun)
    assert "at-the-key" not in listening.state.standing
    assert listening.state.condition.engine == "stopped"
    assert "No run" in listening.refuses(c.EndRun)


def test_it_replays(approaching: Any) -> None:
    approaching.no("all-at-rest").play(c.TryAgain).enter()
    assert approaching.replayed() == approaching.state
