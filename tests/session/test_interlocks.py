"""When confirmations stop holding, and that nothing running is shown without them."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c
from triage.session.interlocks import period_ms


def test_a_period_is_read_as_people_write_it() -> None:
    assert (period_ms("15 min"), period_ms("30 s"), period_ms("2 h")) == (900_000, 30_000, 7_200_000)


@pytest.mark.parametrize(
    ("kind", "given"), [(c.Tick, {}), (c.Note, {"text": "hm"}), (c.HandOver, {"to": "Robin"}), (c.Pause, {})]
)
def test_a_clock_that_goes_back_ends_the_confirmations_whoever_notices(listening: Any, kind: Any, given: Any) -> None:
    listening.wait(-1).play(kind, **given)
    assert listening.happened(e.ThingsEnded)[-1].because == "clock-jumped"
    assert not listening.state.standing


def test_a_clock_that_goes_back_does_not_make_an_engine_cold(listening: Any) -> None:
    ran_ms = listening.state.engine_ran_ms
    listening.tick(-300).answer("listen", "chirp")
    assert ran_ms is not None
    assert listening.state.engine_ran_ms >= ran_ms


def test_a_clock_that_goes_back_ends_a_run(apart: Any) -> None:
    apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter().play(c.StartRun).tick(-1)
    assert apart.step.kind == "run-over"


def test_nothing_lapses_where_nothing_is_confirmed(buzz: Any) -> None:
    assert buzz.tick(600).last == ()
    assert buzz.tick(-600).last == ()


def test_the_same_state_is_confirmed_once_for_all_its_checks(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound")
    assert buzz.asks == "check leak-look"


def test_a_running_engine_is_stopped_only_by_somebody_who_says_so(listening: Any) -> None:
    assert listening.state.condition.engine == "running"
    listening.play(c.Answer, check="listen", outcomes=("chirp",))
    assert listening.state.condition.engine == "running"
    listening.off().enter()
    assert (listening.asks, listening.state.condition.engine) == ("check idler-spin", "stopped")
