"""Ages and runs go by a clock that only goes forward; the wall clock is for the record, and is said when it moves."""

from dataclasses import replace
from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.evolving import fold
from triage.session.interlocks import is_cold

SECOND_MS = 1000
MINUTE_MS = 60 * SECOND_MS


class Clocks:
    """Plays commands with a wall clock of its own beside the forward clock."""

    def __init__(self, talk: Any) -> None:
        self.talk = talk
        self.wall_ms = talk.now_ms
        self.boot = 1

    def play(self, kind: type[c.Command], *, seconds: float = 1.0, wall: float | None = None, **given: Any) -> "Clocks":
        """Let time pass by the forward clock, and by the wall clock as far as it says."""
        self.talk.now_ms += round(seconds * SECOND_MS) - SECOND_MS
        self.wall_ms += round((seconds if wall is None else wall) * SECOND_MS)
        stamp = {"clock_ms": self.talk.now_ms + SECOND_MS, "boot": self.boot}
        at_ms = self.wall_ms
        self.talk.last = played(self.talk, kind(at_ms=at_ms, who="Kim", **stamp, **given))
        self.talk.now_ms += SECOND_MS
        return self

    @property
    def step(self) -> Any:
        return self.talk.step


def played(talk: Any, command: c.Command) -> Any:
    happened = decide(talk.knowledge, talk.state, command)
    talk.events = (*talk.events, *happened)
    talk.state = fold(happened, talk.state)
    return happened


@pytest.fixture
def running(listening: Any) -> Clocks:
    return Clocks(listening)


@pytest.fixture
def run(apart: Any) -> Clocks:
    """At the start of a run without the belt."""
    apart.answer("belt-look", "sound").enter()
    while apart.step.kind != "run-ready":
        apart.answer(apart.step.check, apart.knowledge.checks[apart.step.check].outcomes[0].id).enter()
    return Clocks(apart)


def shifts(talk: Any) -> list[int]:
    return [event.by_ms for event in talk.happened(e.ClockShifted)]


def test_a_wall_clock_set_back_gives_a_run_with_its_belt_no_minute_more(running: Clocks) -> None:
    for _ in range(14):
        running.play(c.Tick, seconds=60, wall=59.5)
    assert running.step.kind == "check"
    running.play(c.Tick, seconds=60, wall=0.5)
    assert running.step.kind == "switch-off"


def test_a_wall_clock_set_back_within_a_run_gives_it_no_second_more(run: Clocks) -> None:
    run.play(c.StartRun)
    run.play(c.Tick, seconds=22)
    run.play(c.Tick, seconds=1, wall=-19)
    assert run.step.kind == "run"
    run.play(c.Tick, seconds=7)
    assert run.step.kind == "run-over", "30 s have gone by, whatever the wall clock says"


def test_a_wall_clock_that_moves_by_more_than_a_second_is_recorded(running: Clocks) -> None:
    running.play(c.Note, text="something", wall=2.0)
    assert not shifts(running.talk), "a second is as exact as the two are read"
    running.play(c.Note, text="something", wall=6.5)
    assert shifts(running.talk) == [5500]
    assert running.step.kind == "check", "a few seconds end nothing"


@pytest.mark.parametrize("wall", [-61.0, 63.0, 7200.0, -7200.0])
def test_a_wall_clock_that_moves_by_more_than_a_minute_ends_every_confirmation(running: Clocks, wall: float) -> None:
    running.play(c.Tick, wall=wall)
    assert not running.talk.state.standing
    assert not running.talk.state.ever
    assert running.step.kind == "switch-off"
    assert running.talk.happened(e.ThingsEnded)[-1].because == "clock-jumped"


def test_a_clock_set_forward_makes_no_engine_cold(run: Clocks) -> None:
    talk = run.talk
    talk.state = replace(talk.state, engine_ran_ms=talk.now_ms)
    run.play(c.Tick, wall=2 * 3600.0 + 5)
    assert not is_cold(talk.state, talk.knowledge.states["running-belt-off"], talk.now_ms)


def test_time_of_which_nobody_knows_how_much_passed_ends_every_confirmation(running: Clocks) -> None:
    running.play(c.Tick, lost=True)
    assert running.step.kind == "switch-off"


def test_no_age_and_no_confirmation_goes_across_two_starts_of_the_clock(running: Clocks) -> None:
    running.boot = 2
    running.play(c.Tick)
    assert not running.talk.state.standing
    assert running.step.kind == "switch-off"
    assert running.talk.state.engine_ran_ms == running.talk.state.clock_ms, "a hot engine is hot from here on"


def test_a_forward_clock_that_goes_back_ends_every_confirmation(running: Clocks) -> None:
    running.play(c.Tick, seconds=-5, wall=-5)
    assert running.step.kind == "switch-off"


def test_every_event_records_both_clocks(running: Clocks) -> None:
    running.play(c.Note, text="something")
    assert all(event.boot == 1 and event.clock_ms > 0 for event in running.talk.events)
