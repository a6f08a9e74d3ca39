"""Change-over: what it takes to turn the vehicle, on the shipped states."""

from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder
from triage.reasoning.advice.changeover import Arrived, ChangeOver, Minutes, standing_after

OVER = ChangeOver(
    engine_start=1, engine_stop=2, belt_off=4, belt_on=8, battery_isolate=16, battery_reconnect=32, engine_cool=64
)


@cache
def shipped() -> Knowledge:
    return load_knowledge(trees_folder())


@pytest.mark.parametrize(
    ("before", "after", "minutes"),
    [
        ("stopped", "running", 1),
        ("running", "stopped", 2),
        ("running", "belt-off", 2 + 4),
        ("belt-off", "running", 8 + 1),
        ("running", "isolated-belt-off", 2 + 4 + 16),
        ("isolated-belt-off", "running", 8 + 32 + 1),
        ("isolated", "belt-off", 32 + 4),
        ("running", "running-belt-off", 2 + 4 + 1),
        ("running-belt-off", "stopped", 2 + 8),
    ],
)
def test_each_turn_of_the_vehicle_takes_its_minutes(before: str, after: str, minutes: float) -> None:
    states = shipped().states
    assert OVER.between(states[before], states[after]) == minutes


def test_a_vehicle_that_stays_as_it_stands_takes_nothing() -> None:
    assert all(OVER.between(state, state) == 0 for state in shipped().states.values())


def test_no_way_round_through_a_third_state_is_shorter() -> None:
    states = shipped().states.values()
    for one, over, other in product(states, repeat=3):
        assert OVER.between(one, other) <= OVER.between(one, over) + OVER.between(over, other)


def test_a_vehicle_arrives_as_a_stopped_one_stands() -> None:
    assert OVER.between(Arrived(), shipped().states["stopped"]) == 0


def test_an_engine_that_must_be_cold_has_to_cool_once() -> None:
    knowledge = shipped()
    cold = [check for check in knowledge.checks.values() if check.state == "running-belt-off"]
    for check in cold:
        there = standing_after(knowledge, check, Arrived())
        without = replace(OVER, engine_cool=0)
        for place, cooling in ((Arrived(), 64), (knowledge.states["belt-off"], 64), (there, 0)):
            took = [Minutes(over).of(knowledge, check, place) for over in (OVER, without)]
            assert took[0] - took[1] == cooling
    assert cold


def test_a_check_that_asks_leaves_the_vehicle_as_it_stands() -> None:
    knowledge = shipped()
    check = next(check for check in knowledge.checks.values() if check.state == "anywhere")
    running = knowledge.states["running"]
    assert standing_after(knowledge, check, running) is running
    assert Minutes(OVER).of(knowledge, check, running) == check.minutes


def test_what_is_used_up_and_the_shop_s_own_minutes_count() -> None:
    knowledge = shipped()
    check = next(check for check in knowledge.checks.values() if check.consumes)
    there = knowledge.states[check.state]
    assert Minutes(OVER, {check.id: 7.0}).of(knowledge, check, there) == 7.0 + 10.0 * len(check.consumes)


def test_a_check_that_is_set_up_by_hand_stops_a_running_engine_first() -> None:
    knowledge = shipped()
    check = next(check for check in knowledge.checks.values() if check.set_up and check.state == "running")
    assert check.set_up is not None
    running = knowledge.states["running"]
    expected = OVER.between(running, knowledge.states[check.set_up.state]) + OVER.engine_start
    assert Minutes(OVER).of(knowledge, check, running) == pytest.approx(expected + check.minutes)
