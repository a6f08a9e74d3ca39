"""Each thing confirmed by itself, refused, tried again; and runs that have a time limit."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c


@pytest.fixture
def at_the_belt(buzz: Any) -> Any:
    return buzz.play(c.Answer, check="heard", outcomes=("yes-heard",))


@pytest.fixture
def ready(apart: Any) -> Any:
    """Before the run without the belt, everything confirmed."""
    return apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter()


def test_each_line_is_pressed_by_itself_and_the_last_one_opens_the_state(at_the_belt: Any) -> None:
    assert at_the_belt.step.lines == ("parking-brake", "all-at-rest")
    assert "not on the card" in at_the_belt.refuses(c.Confirm, confirmation="bay-clear")
    at_the_belt.confirm("parking-brake")
    assert "not what is asked" in at_the_belt.refuses(c.Answer, check="belt-look", outcomes=("sound",))
    at_the_belt.confirm("all-at-rest")
    assert at_the_belt.asks == "check belt-look"
    assert at_the_belt.happened(e.StateEntered)[0].state == "stopped"


@pytest.fixture
def before_the_start(at_the_belt: Any) -> Any:
    return at_the_belt.answer("belt-look", "sound").answer("leak-look", "dry").confirm("bay-clear", "nobody-in")


def test_a_confirmation_that_is_a_name_needs_one(before_the_start: Any) -> None:
    assert before_the_start.asks == "confirm at-the-key"
    assert "name is empty" in before_the_start.refuses(c.Confirm, confirmation="at-the-key", name=" ")
    before_the_start.play(c.Confirm, confirmation="at-the-key", name="Robin")
    assert before_the_start.happened(e.ThingConfirmed)[-1].name == "Robin"
    assert before_the_start.asks == "check listen"


def test_whoever_watches_is_not_at_the_key(before_the_start: Any) -> None:
    for name in ("Kim", " kim ", "KIM"):
        assert "watches the drive" in before_the_start.refuses(c.Confirm, confirmation="at-the-key", name=name)
    assert before_the_start.play(c.Confirm, confirmation="at-the-key", name="Kim B").asks == "check listen"


def test_everything_is_asked_again_after_the_vehicle_was_left(before_the_start: Any) -> None:
    before_the_start.play(c.Pause).play(c.Resume)
    assert not before_the_start.state.standing
    before_the_start.enter().play(c.HandOver, to="Bo").play(c.Resume)
    assert not before_the_start.state.standing


def test_what_a_vehicle_arrives_with_in_order_is_asked_once_it_was_apart(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").answer("overrun-torque", "free")
    buzz.answer("cap-look", "clean").enter()
    assert "belt-on" not in _asked(buzz)
    buzz.play(c.TakeBack, check="belt-look").enter()
    assert _asked(buzz)[-1] == "belt-on", "the belt was off; the battery is isolated still"


def _asked(talk: Any) -> list[str]:
    return [event.confirmation for event in talk.happened(e.ThingConfirmed)]


def test_a_no_counts_at_once_and_is_asked_about_after(at_the_belt: Any) -> None:
    assert "not on the card" in at_the_belt.refuses(c.RefuseConfirmation, confirmation="belt-on", reason="worn")
    at_the_belt.play(c.RefuseConfirmation, confirmation="parking-brake")
    assert "parking-brake" in at_the_belt.state.denied
    assert at_the_belt.asks == "why parking-brake"
    assert "reason is empty" in at_the_belt.refuses(c.SayWhy, reason=" ")
    at_the_belt.play(c.SayWhy, reason="cable broken")
    assert at_the_belt.happened(e.RefusalExplained)[0].reason == "cable broken"
    assert at_the_belt.asks == "held parking-brake"
    assert "not what is asked" in at_the_belt.refuses(c.Confirm, confirmation="parking-brake")
    at_the_belt.play(c.TryAgain)
    assert at_the_belt.asks == "confirm parking-brake"
    assert "not what is asked" in at_the_belt.refuses(c.TryAgain)


def test_a_no_to_no_line_in_particular_is_said_of_each(at_the_belt: Any) -> None:
    at_the_belt.confirm("all-at-rest").play(c.RefuseConfirmation, confirmation="")
    assert not at_the_belt.state.standing
    assert at_the_belt.state.denied == {"parking-brake", "all-at-rest"}


def test_a_held_check_can_be_left_out_as_one_that_could_not_be_done(at_the_belt: Any) -> None:
    at_the_belt.no("parking-brake").cannot("belt-look")
    assert at_the_belt.state.findings["belt-look"].outcomes == ()
    assert at_the_belt.asks == "confirm parking-brake"
    assert at_the_belt.step.check == "overrun-torque"


def test_what_a_check_uses_up_is_asked_before_anything_is_made_safe_for_it(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").cannot("overrun-torque")
    assert (buzz.step.lines, buzz.state.standing.keys()) == (("in-hand-cap-look",), {"parking-brake", "all-at-rest"})
    assert "not what is asked" in buzz.refuses(c.Answer, check="cap-look", outcomes=("clean",))
    buzz.no("in-hand-cap-look", "on order")
    assert buzz.asks == "held in-hand-cap-look"
    assert buzz.state.standing.keys() == {"parking-brake", "all-at-rest"}, "a cap that is not there ends nothing"
    buzz.play(c.TryAgain).confirm("in-hand-cap-look", "leads-off")
    assert buzz.asks == "check cap-look"
    buzz.play(c.Answer, check="cap-look", outcomes=("clean",)).play(c.TakeBack, check="cap-look")
    assert buzz.asks == "confirm in-hand-cap-look", "it was used up"


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


def test_every_run_needs_its_person_anew(ready: Any) -> None:
    ready.play(c.StartRun).play(c.EndRun).play(c.Answer, check="belt-off-listen", outcomes=("gone",))
    ready.play(c.TakeBack, check="belt-off-listen")
    assert ready.open == ["maker-allows", "started-again"]


def test_a_run_is_refused_while_the_engine_is_warm(ready: Any) -> None:
    ready.state = ready.state.__class__(**{**vars(ready.state), "engine_ran_ms": ready.now_ms})
    assert ready.tick().step.kind == "held"
    assert "not what is asked" in ready.refuses(c.StartRun)
    ready.tick(119.9)
    assert ready.step.kind == "held"
    assert ready.tick(0.1).step.lines[0] == "maker-allows", "nobody said anything for two hours"


def test_a_correction_in_the_middle_of_a_run_stops_it(ready: Any) -> None:
    ready.play(c.StartRun).play(c.TakeBack, check="idler-spin")
    assert (ready.step.kind, ready.step.state) == ("run-over", "running-belt-off")
    ready.play(c.EndRun)
    assert ready.step.check == "idler-spin", "the result belongs to another check"
    ready.answer("idler-spin", "smooth")
    assert ready.asks == "result belt-off-listen"


def test_what_changes_in_the_middle_of_a_run_interrupts_it(ready: Any) -> None:
    ready.play(c.StartRun).changed("stepped-in")
    assert ready.happened(e.RunEnded)[0].because == "interrupted"
    assert ready.step.kind == "run-over"


def test_a_run_is_started_and_ended_only_where_there_is_one(ready: Any) -> None:
    assert "No run" in ready.refuses(c.EndRun)
    ready.play(c.StartRun)
    assert "not what is asked" in ready.refuses(c.StartRun)
