"""A "no" ends the thing that it is said of, in every state that lists it; a running engine is switched off first."""

from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c

RUNNING_STEPS = ("check", "run-ready", "run", "result")


@pytest.fixture
def running(clipped: Any) -> Any:
    """The engine runs for a check without any set-up."""
    return clipped.answer("belt-look", "sound").enter()


@pytest.fixture
def approaching(running: Any) -> Any:
    """The engine still counts as running; the next check's set-up asks for the parking brake."""
    return running.play(c.Answer, check="listen", outcomes=("quiet",))


def no(talk: Any) -> Any:
    return talk.play(c.RefuseConfirmation, confirmation=talk.step.confirmation, reason="it does not hold")


def test_a_no_on_the_way_to_a_set_up_ends_the_running_state(approaching: Any) -> None:
    assert (approaching.asks, approaching.step.state) == ("confirm parking-brake", "stopped")
    no(approaching)
    assert approaching.state.live is None
    assert approaching.step.kind == "switch-off"


def test_after_a_no_nothing_is_taken_before_the_engine_is_off(approaching: Any) -> None:
    no(approaching)
    approaching.refuses(c.CannotDo, check="clip-listen", reason="no time")
    approaching.refuses(c.TryAgain)
    assert "may still be running" in approaching.refuses(c.Close, how="without-repair", reason="no time")
    approaching.play(c.EndRun)
    assert approaching.happened(e.EngineOff)
    assert approaching.asks == "held parking-brake"


def test_leaving_the_check_out_after_a_no_leads_to_no_running_check(approaching: Any) -> None:
    no(approaching).play(c.EndRun).cannot("clip-listen")
    assert approaching.step.kind not in RUNNING_STEPS
    assert (approaching.asks, approaching.step.state) == ("confirm parking-brake", "stopped")


def test_what_was_said_not_to_be_so_is_asked_until_it_is(approaching: Any) -> None:
    no(approaching)
    assert "parking-brake" in approaching.state.denied
    approaching.play(c.EndRun).play(c.TryAgain).enter()
    assert not approaching.state.denied
    assert approaching.asks == "check clip-listen"


def test_a_no_with_hands_in_ends_the_state_that_lists_it(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    assert (buzz.asks, buzz.step.state) == ("confirm parking-brake", "running")
    assert buzz.state.live
    no(buzz)
    assert buzz.state.live is None, "the stopped state lists the parking brake too"
    assert buzz.asks == "held parking-brake"


def test_a_no_about_something_that_the_live_state_does_not_list_leaves_it(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").confirm("parking-brake")
    assert (buzz.asks, buzz.step.state) == ("confirm bay-clear", "running")
    no(buzz)
    assert buzz.asks == "held bay-clear"
    buzz.play(c.TryAgain)
    assert buzz.asks == "confirm bay-clear", "what was confirmed before it still stands"


def test_a_once_confirmed_thing_that_is_refused_later_is_asked_again(small: Knowledge, talk: Any) -> None:
    once = small.confirmations["parking-brake"].model_copy(update={"once": True})
    knowledge = small.model_copy(update={"confirmations": {**small.confirmations, once.id: once}})
    started = talk(knowledge, "buzz").told().answer("heard", "yes-heard").answer("belt-look", "sound")
    started.answer("leak-look", "dry")
    assert started.asks == "confirm bay-clear"
    started.play(c.Pause).play(c.Resume)
    no(started).play(c.TryAgain)
    assert started.asks == "confirm parking-brake"


def test_a_lapse_while_the_engine_runs_asks_nothing_but_to_switch_off(listening: Any) -> None:
    listening.tick(minutes=16)
    assert listening.step.kind == "switch-off"
    listening.play(c.EndRun)
    assert (listening.asks, listening.step.state) == ("confirm parking-brake", "running")


def test_a_correction_while_the_engine_runs_switches_it_off(listening: Any) -> None:
    listening.play(c.TakeBack, check="belt-look")
    assert listening.step.kind == "switch-off"


def test_who_comes_back_to_a_running_engine_switches_it_off_first(listening: Any) -> None:
    listening.play(c.Pause).play(c.Resume)
    assert listening.step.kind == "switch-off"
    assert listening.play(c.EndRun).asks == "confirm parking-brake"


def test_the_engine_can_be_said_to_be_off_at_any_moment(listening: Any) -> None:
    listening.play(c.EndRun)
    assert listening.state.live is None
    assert listening.state.condition.engine == "stopped"
    assert "No run" in listening.refuses(c.EndRun)


def test_it_replays(approaching: Any) -> None:
    no(approaching).play(c.EndRun).play(c.TryAgain).enter()
    assert approaching.replayed() == approaching.state
