"""Which checks may be made now."""

from dataclasses import replace
from typing import Any

from triage.session import commands as c
from triage.session.choosing import choice_of


def may(buzz: Any) -> set[str]:
    return set(choice_of(buzz.knowledge, buzz.state).now)


def later(buzz: Any) -> set[str]:
    return set(choice_of(buzz.knowledge, buzz.state).later)


def running(buzz: Any, checks: set[str]) -> set[str]:
    states = buzz.knowledge.states
    needs = {check: states.get(buzz.knowledge.checks[check].state) for check in checks}
    return {check for check, state in needs.items() if state and state.engine == "running"}


def test_no_running_check_is_open_before_somebody_looked_at_the_stopped_drive(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard")
    assert not running(buzz, may(buzz))
    assert running(buzz, later(buzz))
    buzz.answer("belt-look", "sound").answer("leak-look", "dry")
    assert running(buzz, may(buzz))


def test_a_finding_that_closes_running_takes_every_running_check_out(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    assert not running(buzz, may(buzz) | later(buzz))


def test_a_look_that_could_not_be_made_keeps_the_engine_off(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").play(c.CannotDo, check="belt-look", reason="no lamp")
    assert not running(buzz, may(buzz) | later(buzz))


def test_what_was_made_or_could_not_be_done_is_not_open_again(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").play(c.CannotDo, check="leak-look", reason="dark")
    assert not {"heard", "belt-look", "leak-look"} & may(buzz)


def test_a_run_that_nobody_may_make_any_more_is_not_open(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    limited = {name: one.model_copy(update={"runs": 2}) for name, one in buzz.knowledge.states.items()}
    knowledge = buzz.knowledge.model_copy(update={"states": limited})
    for runs, open_still in ((1, True), (2, False)):
        left = choice_of(knowledge, replace(buzz.state, runs=runs))
        assert bool(running(buzz, {*left.now, *left.later})) == open_still
