"""Each thing confirmed by itself, refused, tried again; and runs that have a time limit."""

from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c


@pytest.fixture
def at_the_belt(buzz: Any) -> Any:
    return buzz.play(c.Answer, check="heard", outcomes=("yes-heard",))


@pytest.fixture
def ready(apart: Any) -> Any:
    """Before the run without the belt, everything confirmed."""
    return apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter()


def test_each_thing_is_confirmed_by_itself_and_in_order(at_the_belt: Any) -> None:
    assert at_the_belt.asks == "confirm parking-brake"
    assert "in order" in at_the_belt.refuses(c.Confirm, confirmation="all-at-rest")
    at_the_belt.confirm("parking-brake")
    assert at_the_belt.asks == "confirm all-at-rest"
    assert "in order" in at_the_belt.refuses(c.Confirm, confirmation="parking-brake")
    assert "not what is asked" in at_the_belt.refuses(c.Answer, check="belt-look", outcomes=("sound",))
    at_the_belt.confirm("all-at-rest")
    assert at_the_belt.asks == "check belt-look"
    assert at_the_belt.happened(e.StateEntered)[0].state == "stopped"


def test_a_confirmation_that_is_a_name_needs_one(at_the_belt: Any) -> None:
    at_the_belt.answer("belt-look", "sound").answer("leak-look", "dry").confirm("parking-brake", "bay-clear")
    assert at_the_belt.asks == "confirm at-the-key"
    assert "name is empty" in at_the_belt.refuses(c.Confirm, confirmation="at-the-key", name=" ")
    at_the_belt.play(c.Confirm, confirmation="at-the-key", name="Robin")
    assert at_the_belt.happened(e.ThingConfirmed)[-1].name == "Robin"
    assert at_the_belt.asks == "check listen"


def test_whoever_watches_is_not_at_the_key(at_the_belt: Any) -> None:
    at_the_belt.answer("belt-look", "sound").answer("leak-look", "dry").confirm("parking-brake", "bay-clear")
    for name in ("Kim", " kim ", "KIM"):
        assert "watches the drive" in at_the_belt.refuses(c.Confirm, confirmation="at-the-key", name=name)
    assert at_the_belt.play(c.Confirm, confirmation="at-the-key", name="Kim B").asks == "check listen"


def test_what_is_asked_once_is_asked_again_after_the_vehicle_was_left(small: Knowledge, talk: Any) -> None:
    once = small.confirmations["parking-brake"].model_copy(update={"once": True})
    knowledge = small.model_copy(update={"confirmations": {**small.confirmations, "parking-brake": once}})
    session = talk(knowledge, "buzz").told().answer("heard", "yes-heard").answer("belt-look", "sound")
    session.answer("leak-look", "dry")
    assert session.asks == "confirm bay-clear"
    assert session.play(c.Pause).play(c.Resume).asks == "confirm parking-brake"
    session.confirm("parking-brake").play(c.HandOver, to="Bo").play(c.Resume)
    assert session.asks == "confirm parking-brake"


def test_what_is_asked_only_of_a_vehicle_that_was_apart_is_asked_then(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").answer("overrun-torque", "free")
    buzz.answer("cap-look", "clean")
    assert "leads-on" in _asked(buzz.enter()), "the battery was isolated"
    buzz.play(c.TakeBack, check="belt-look").enter()
    assert _asked(buzz)[-3:] == ["parking-brake", "all-at-rest", "belt-on"], "the belt is off, the lead is on"


def test_a_state_that_was_left_half_way_counts_as_one_the_vehicle_comes_from(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell")
    buzz.confirm("parking-brake", "all-at-rest").play(c.RefuseConfirmation, confirmation="leads-off", reason="rusty")
    buzz.cannot("overrun-torque").cannot("cap-look")
    assert buzz.step.state == "belt-off"
    assert "leads-on" in _asked(buzz.enter())


def _asked(talk: Any) -> list[str]:
    return [event.confirmation for event in talk.happened(e.ThingConfirmed)]


def test_a_refused_confirmation_holds_until_it_is_tried_again(at_the_belt: Any) -> None:
    assert "reason is empty" in at_the_belt.refuses(c.RefuseConfirmation, confirmation="parking-brake", reason="")
    assert "in order" in at_the_belt.refuses(c.RefuseConfirmation, confirmation="belt-on", reason="worn")
    at_the_belt.play(c.RefuseConfirmation, confirmation="parking-brake", reason="cable broken")
    assert at_the_belt.asks == "held parking-brake"
    assert "not what is asked" in at_the_belt.refuses(c.Confirm, confirmation="parking-brake")
    at_the_belt.play(c.TryAgain)
    assert at_the_belt.asks == "confirm parking-brake"
    assert "not what is asked" in at_the_belt.refuses(c.TryAgain)


def test_a_held_check_can_be_left_out_as_one_that_could_not_be_done(at_the_belt: Any) -> None:
    at_the_belt.play(c.RefuseConfirmation, confirmation="parking-brake", reason="broken").cannot("belt-look")
    assert at_the_belt.state.findings["belt-look"].outcomes == ()
    assert at_the_belt.asks == "confirm parking-brake"
    assert at_the_belt.step.check == "overrun-torque"


def test_what_a_check_uses_up_is_in_hand_first(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").answer("overrun-torque", "free")
    assert buzz.asks == "confirm in-hand-cap-look"
    assert "not what is asked" in buzz.refuses(c.Answer, check="cap-look", outcomes=("clean",))
    buzz.play(c.RefuseConfirmation, confirmation="in-hand-cap-look", reason="on order")
    assert buzz.asks == "held in-hand-cap-look"
    buzz.play(c.TryAgain).confirm("in-hand-cap-look")
    assert buzz.asks == "check cap-look"


def test_a_state_is_entered_before_what_is_used_up_is_asked(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").cannot("overrun-torque")
    buzz.confirm("parking-brake", "all-at-rest", "leads-off")
    assert (buzz.asks, buzz.state.condition.battery) == ("confirm in-hand-cap-look", "isolated")


def test_a_run_counts_down_and_ends_with_the_engine_off_before_its_result_is_asked(ready: Any) -> None:
    assert ready.asks == "run-ready belt-off-listen"
    assert ready.state.condition.engine == "stopped"
    assert "not what is asked" in ready.refuses(c.Answer, check="belt-off-listen", outcomes=("gone",))
    ready.play(c.StartRun)
    assert (ready.step.kind, ready.step.until_ms - ready.now_ms) == ("run", 30_000)
    assert "not what is asked" in ready.refuses(c.Answer, check="belt-off-listen", outcomes=("gone",))
    assert "not what is asked" in ready.refuses(c.CannotDo, check="belt-off-listen", reason="loud")
    ready.play(c.EndRun)
    assert (ready.asks, ready.state.condition.engine) == ("result belt-off-listen", "stopped")
    ready.play(c.Answer, check="belt-off-listen", outcomes=("still-there",))
    assert ready.state.concluded.end == "not-from-drive"


def test_a_run_that_reaches_its_limit_must_be_switched_off_before_anything_else(ready: Any) -> None:
    ready.play(c.StartRun).now_ms += 28_000
    assert ready.play(c.Tick).step.kind == "run"
    assert ready.play(c.Tick).step.kind == "run-over", "exactly at the limit"
    assert "engine may still be running" in ready.refuses(c.Close, how="without-repair", reason="late")
    assert "not what is asked" in ready.refuses(c.Answer, check="belt-off-listen", outcomes=("gone",))
    assert ready.play(c.EndRun).step.kind == "result"


def test_there_are_two_runs_at_most(ready: Any) -> None:
    for _ in range(2):
        ready.enter().play(c.StartRun).play(c.EndRun)
        ready.play(c.Answer, check="belt-off-listen", outcomes=("gone",)).play(c.TakeBack, check="belt-off-listen")
    assert (ready.asks, ready.step.confirmation) == ("held belt-off-listen", "")
    ready.play(c.TryAgain)
    assert ready.step.kind == "held"
    assert ready.cannot("belt-off-listen").step.kind == "conclusion"


def test_every_run_needs_its_confirmations_anew(ready: Any) -> None:
    ready.play(c.StartRun).play(c.EndRun).play(c.Answer, check="belt-off-listen", outcomes=("gone",))
    ready.play(c.TakeBack, check="belt-off-listen")
    assert ready.asks == "confirm maker-allows"


def test_a_run_is_refused_while_the_engine_is_warm(ready: Any) -> None:
    ready.state = ready.state.__class__(**{**vars(ready.state), "engine_ran_ms": ready.now_ms})
    assert ready.tick().step.kind == "held"
    assert "not what is asked" in ready.refuses(c.StartRun)
    ready.tick(119.9)
    assert ready.step.kind == "held"
    assert ready.tick(0.1).step.kind == "confirm"


def test_a_correction_in_the_middle_of_a_run_stops_it(ready: Any) -> None:
    ready.play(c.StartRun).play(c.TakeBack, check="idler-spin")
    assert (ready.step.kind, ready.step.state) == ("run-over", "running-belt-off")
    ready.play(c.EndRun)
    assert ready.asks == "confirm parking-brake"
    assert ready.step.check == "idler-spin", "the result belongs to another check"
    ready.answer("idler-spin", "smooth")
    assert ready.asks == "result belt-off-listen"


def test_a_run_is_started_and_ended_only_where_there_is_one(ready: Any) -> None:
    assert "No run" in ready.refuses(c.EndRun)
    ready.play(c.StartRun)
    assert "not what is asked" in ready.refuses(c.StartRun)


def test_confirmations_that_age_in_the_middle_of_a_run_end_it(apart: Any) -> None:
    apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter().wait(4.7).play(c.StartRun)
    apart.now_ms += 20_000
    apart.play(c.Tick)
    assert apart.happened(e.RunEnded)[0].because == "interrupted"
    assert apart.step.kind == "run-over"
