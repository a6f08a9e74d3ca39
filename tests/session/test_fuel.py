"""In fuel vapour nothing is started, tried or disconnected, whatever the tree asks for next."""

from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.session import commands as c

AT_THE_VEHICLE = ("check", "confirm", "set-up", "part", "torque", "run-ready", "run")


@pytest.fixture
def leaking(small: Knowledge, talk: Any) -> Any:
    """Something leaks, and it is fuel."""
    look = small.checks["leak-look"]
    outcomes = tuple(one.model_copy(update={"fuel": one.id == "leak"}) for one in look.outcomes)
    checks = {**small.checks, look.id: look.model_copy(update={"outcomes": outcomes})}
    buzz = talk(small.model_copy(update={"checks": checks}), "buzz").told().answer("heard", "yes-heard")
    return buzz.answer("belt-look", "sound").answer("leak-look", "leak")


def test_where_fuel_leaks_nobody_is_led_anywhere_until_it_is_put_right(leaking: Any) -> None:
    assert (leaking.step.kind, leaking.step.check) == ("blocked", "leak-look")
    assert "put right" in leaking.refuses(c.CannotDo, check="leak-look", reason="x")
    leaking.play(c.PutRight, check="leak-look", done="line clipped on again")
    assert leaking.enter().asks == "check leak-look"
    assert "start-tried" not in leaking.state.standing
    leaking.answer("leak-look", "dry")
    assert leaking.step.kind in AT_THE_VEHICLE


def test_another_leak_lets_hands_in_where_the_battery_is_isolated(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "leak")
    assert (buzz.step.kind, buzz.step.state) == ("confirm", "isolated")


def test_fuel_that_is_found_once_more_still_leads_nowhere(leaking: Any) -> None:
    leaking.play(c.PutRight, check="leak-look", done="wiped").enter().answer("leak-look", "leak")
    assert leaking.step.kind == "blocked"


def test_taking_the_finding_back_asks_the_look_again_and_opens_nothing(leaking: Any) -> None:
    leaking.play(c.TakeBack, check="leak-look")
    assert leaking.step.kind == "blocked", "only a look that says something opens it again"


def test_the_shipped_look_tells_fuel_from_everything_else_that_leaks(shipped: Knowledge) -> None:
    fuel = [one.id for one in shipped.checks["fluid-leak"].outcomes if one.fuel]
    assert fuel == ["fuel"]
    assert all(one.closes_running for check in shipped.checks.values() for one in check.outcomes if one.fuel)


def test_a_smell_of_fuel_is_asked_for_before_any_vehicle_state(shipped: Knowledge) -> None:
    for state in shipped.states.values():
        things = {thing for line in state.confirmations for thing in shipped.confirmations[line].things}
        assert "no-fuel-smell" in things


def test_what_was_put_right_and_cannot_be_seen_now_is_fuel_still(shipped: Knowledge, talk: Any) -> None:
    session = talk(shipped, "belt-chirp").told().answer("complaint-heard", "not-now")
    while "fluid-leak" not in (session.step.check, *session.step.open):
        check = shipped.checks[session.step.check]
        session.answer(check.id, check.outcomes[0].id)
    session.answer("fluid-leak", "fuel").play(c.PutRight, check="fluid-leak", done="hose renewed")
    session.answer("fluid-leak", "cannot-see")
    assert (session.step.kind, session.step.check) == ("blocked", "fluid-leak")
