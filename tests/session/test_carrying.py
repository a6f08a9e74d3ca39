"""What goes along from one state with the engine stopped into the next, with its age, and all that ends it."""

from itertools import pairwise
from typing import Any

import pytest

from triage.knowledge.models import PULLEYS, Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.interlocks import period_ms

ISOLATED = ["all-at-rest", "leads-off"]


@pytest.fixture
def looked(carrying: Knowledge, talk: Any) -> Any:
    """In the stopped state, before a look that leads to the isolated one."""
    return talk(carrying, "buzz").told().answer("heard", "yes-heard").enter()


@pytest.fixture
def leaving(looked: Any) -> Any:
    """Before the first thing that is asked so that the battery can come off."""
    return looked.answer("belt-look", "cannot-tell")


@pytest.fixture
def isolated(leaving: Any) -> Any:
    """With the battery off and the brake as it was confirmed before."""
    return leaving.enter()


def asked(talk: Any, state: str) -> list[str]:
    return [event.confirmation for event in talk.happened(e.ThingConfirmed) if event.state == state]


def began_ms(talk: Any) -> int:
    return int(talk.happened(e.ThingConfirmed)[0].at_ms)


def test_what_lasts_is_asked_once_for_two_states_with_the_engine_stopped(isolated: Any) -> None:
    assert asked(isolated, "stopped") == ["parking-brake", "all-at-rest"]
    assert asked(isolated, "isolated") == ISOLATED
    assert isolated.asks == "check overrun-torque"


def test_what_goes_along_is_in_the_trace_with_the_time_at_which_it_was_confirmed(isolated: Any) -> None:
    (carried,) = isolated.happened(e.ThingsCarried)
    assert (carried.state, carried.since) == ("isolated", {"parking-brake": began_ms(isolated)})
    assert isolated.state.live.confirmed["parking-brake"] == began_ms(isolated)
    assert isolated.replayed() == isolated.state


def test_it_keeps_its_age_and_ends_the_state_it_came_into_at_exactly_its_limit(isolated: Any) -> None:
    isolated.now_ms = began_ms(isolated) + period_ms("60 min") - 2 * 1000
    assert isolated.play(c.Tick).asks == "check overrun-torque"
    isolated.play(c.Tick)
    assert isolated.happened(e.InterlockLapsed)[-1].because == "aged"
    assert isolated.asks == "confirm parking-brake"
    assert isolated.enter().happened(e.ThingsCarried)[1:] == []


def test_it_ages_half_way_into_the_next_state_too(leaving: Any) -> None:
    leaving.confirm("all-at-rest")
    leaving.now_ms = began_ms(leaving) + period_ms("60 min") - 1000
    assert leaving.play(c.Tick).asks == "confirm parking-brake"


@pytest.mark.parametrize(("short_ms", "asks"), [(2000, "confirm all-at-rest"), (1000, "confirm parking-brake")])
def test_what_has_less_than_half_of_its_time_left_is_asked(looked: Any, short_ms: int, asks: str) -> None:
    looked.now_ms = began_ms(looked) + period_ms("30 min") - short_ms
    assert looked.play(c.Answer, check="belt-look", outcomes=("cannot-tell",)).asks == asks


def test_it_is_asked_after_all_when_it_aged_before_the_next_state_was_begun(leaving: Any) -> None:
    leaving.now_ms = began_ms(leaving) + period_ms("30 min") - 1000
    leaving.confirm("all-at-rest")
    assert leaving.happened(e.ThingsCarried) == []
    assert leaving.asks == "confirm parking-brake"


def test_nothing_goes_along_where_the_engine_starts_or_stops(looked: Any) -> None:
    looked.answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "buzz").enter()
    assert looked.state.live.state == "isolated"
    assert asked(looked, "running")[0] == "parking-brake"
    assert asked(looked, "isolated") == ["parking-brake", *ISOLATED]
    assert looked.happened(e.ThingsCarried) == []


def test_nothing_goes_along_out_of_a_state_that_was_not_entered(leaving: Any) -> None:
    leaving.confirm("all-at-rest").cannot("overrun-torque").cannot("cap-look")
    assert (leaving.asks, leaving.step.state) == ("confirm parking-brake", "belt-off")


ENDS = {
    "a pause": lambda talk: talk.play(c.Pause).play(c.Resume),
    "a hand-over": lambda talk: talk.play(c.HandOver, to="Bo").play(c.Resume),
    "a correction": lambda talk: talk.play(c.Correct, check="heard", outcomes=("not-now",)),
    "confirmations that aged": lambda talk: talk.tick(61),
    "a clock that jumped": lambda talk: talk.tick(-5),
    "the refusal of another thing": lambda talk: refused(talk).play(c.TryAgain),
}


def refused(talk: Any) -> Any:
    if talk.step.kind == "check":
        return talk.cannot("overrun-torque").play(c.RefuseConfirmation, confirmation="in-hand-cap-look", reason="gone")
    return talk.play(c.RefuseConfirmation, confirmation=talk.step.confirmation, reason="not so")


@pytest.mark.parametrize("what", ENDS)
@pytest.mark.parametrize("when", ["before", "half way", "inside"])
def test_all_that_is_carried_ends_with(leaving: Any, what: str, when: str) -> None:
    if when != "before":
        leaving.confirm("all-at-rest")
    if when == "inside":
        leaving.enter()
    carried = len(leaving.happened(e.ThingsCarried))
    ENDS[what](leaving)
    assert leaving.asks == "confirm parking-brake"
    leaving.enter()
    assert len(leaving.happened(e.ThingsCarried)) == carried
    assert leaving.state.live.carried == frozenset()


def test_what_was_refused_is_held_and_shown_although_its_state_has_ended(leaving: Any) -> None:
    leaving.confirm("all-at-rest").play(c.RefuseConfirmation, confirmation="leads-off", reason="rusty")
    assert leaving.happened(e.InterlockLapsed)[-1].because == "refused"
    assert leaving.asks == "held leads-off"
    assert leaving.tick(5).asks == "held leads-off"
    assert leaving.play(c.TryAgain).asks == "confirm parking-brake"


def test_a_refusal_where_nothing_was_carried_keeps_what_its_state_confirmed(looked: Any) -> None:
    looked.answer("belt-look", "sound").answer("leak-look", "dry").confirm("parking-brake")
    looked.play(c.RefuseConfirmation, confirmation="bay-clear", reason="a lamp").play(c.TryAgain)
    assert looked.asks == "confirm bay-clear"


def test_what_was_confirmed_before_a_refusal_goes_along_no_more(looked: Any) -> None:
    looked.answer("belt-look", "sound").answer("leak-look", "dry")
    looked.play(c.RefuseConfirmation, confirmation="parking-brake", reason="slips").cannot("listen")
    assert (looked.asks, looked.step.state) == ("confirm parking-brake", "isolated")


def test_everything_is_asked_again_once_a_fault_was_put_right(carrying: Knowledge, talk: Any, walking: Any) -> None:
    session = talk(walking.careless(carrying), "buzz").told().answer("heard", "yes-heard")
    session.answer("belt-look", "torn").answer("leak-look", "dry").play(c.PutRight, check="belt-look", done="new belt")
    assert (session.asks, session.step.state) == ("confirm parking-brake", "stopped")


def test_nothing_goes_along_while_a_repair_is_done_and_proved(looked: Any) -> None:
    looked.answer("belt-look", "torn").play(c.BeginRemedy)
    assert (looked.asks, looked.step.state) == ("confirm parking-brake", "belt-off")
    looked.enter().play(c.RecordPart, part="belt", done="renewed")
    assert looked.state.stage == "proving"
    assert (looked.asks, looked.step.state) == ("confirm parking-brake", "stopped")
    assert looked.happened(e.ThingsCarried) == []


def test_sessions_are_the_same_where_nothing_carries(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").enter()
    assert buzz.happened(e.ThingsCarried) == []


@pytest.mark.parametrize("pulley", PULLEYS)
def test_every_step_on_the_way_where_all_is_normal_stands_on_confirmations_that_hold(
    shipped: Knowledge, talk: Any, pulley: str
) -> None:
    carried = 0
    for symptom in shipped.trees:
        session = talk(shipped, symptom).told(None if pulley == "unknown" else pulley)
        for _ in range(400):
            step = session.enter().wait(1).play(c.Tick).enter().step
            if step.kind not in ("check", "run-ready", "run", "result", "held"):
                break
            if step.kind != "held" and step.state in shipped.states:
                expect_confirmed(session, session.state)
            proceed(session, step.kind, shipped)
        assert session.step.kind == "conclusion", symptom
        carried += len(session.happened(e.ThingsCarried))
    assert carried > 2


def proceed(session: Any, kind: str, knowledge: Knowledge) -> None:
    check = knowledge.checks[session.step.check]
    if kind in ("check", "result"):
        session.play(c.Answer, check=check.id, outcomes=(check.normal(session.state.pulley),))
    elif kind == "held":
        session.cannot(check.id)
    else:
        session.play({"run-ready": c.StartRun, "run": c.EndRun}[kind])


def expect_confirmed(session: Any, state: Any) -> None:
    """From the trace alone: asked in this state, or carried between stopped engines, and young, and after all doubt."""
    knowledge, target = session.knowledge, session.knowledge.states[state.step.state]
    events = [event for event in session.events if not isinstance(event, e.StepOffered)]
    doubts = (e.InterlockLapsed, e.ThingRefused, e.SessionPaused, e.SessionHandedOver)
    doubted_ms = max((event.at_ms for event in events if isinstance(event, doubts)), default=0)
    entered = [event for event in session.events if isinstance(event, e.StateEntered)]
    assert entered[-1].state == target.id
    left_ms = entered[-2].at_ms if len(entered) > 1 else 0
    given = [event for event in events if isinstance(event, e.ThingConfirmed)]
    for confirmation in target.confirmations:
        thing = knowledge.confirmations[confirmation]
        if thing.once or thing.after:
            continue
        at_ms = max(event.at_ms for event in given if event.confirmation == confirmation)
        assert doubted_ms < at_ms > session.now_ms - period_ms(target.lives.text), confirmation
        own = any(one.state == target.id and one.at_ms == at_ms and at_ms > left_ms for one in given)
        assert own or (thing.carries and target.engine == "stopped"), confirmation


def test_two_states_that_follow_each_other_share_only_what_carries(shipped: Knowledge, talk: Any) -> None:
    session = talk(shipped, "belt-thrown").told("decoupler")
    while session.enter().step.kind in ("check", "result", "run-ready", "run", "held"):
        proceed(session, session.step.kind, shipped)
    entered = session.happened(e.StateEntered)
    carried = {event.state: set(event.since) for event in session.happened(e.ThingsCarried)}
    assert {one for since in carried.values() for one in since} == {
        "parking-brake",
        "wheels-chocked",
        "park-or-neutral",
    }
    assert len(carried) <= sum(one.state != two.state for one, two in pairwise(entered))
