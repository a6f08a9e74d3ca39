"""The watcher would see each of the holes that it was written for, in events that no session writes any more."""

import dataclasses
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c

MINUTE_MS = 60_000


@pytest.fixture
def looking(buzz: Any) -> Any:
    """With hands in at the stopped drive."""
    return buzz.answer("heard", "yes-heard").enter()


def seen(walking: Any, knowledge: Knowledge, events: list[e.Event], **later: int) -> None:
    """Show events to a watcher, and let it look after the last one, or later."""
    watcher = walking.Watcher(knowledge)
    for event in events:
        watcher.see(event)
    now = watcher.ledger.now
    watcher.look(now._replace(clock_ms=now.clock_ms + later.get("later_ms", 0), boot=now.boot + later.get("boots", 0)))


def stamp(talk: Any, **other: int) -> dict[str, Any]:
    return {"at_ms": talk.now_ms, "who": "Kim", "clock_ms": talk.now_ms, "boot": 1, **other}


def offered(talk: Any) -> e.StepOffered:
    return e.StepOffered(**stamp(talk), step=talk.step)


def refused(talk: Any, state: str = "stopped") -> e.ThingRefused:
    return e.ThingRefused(**stamp(talk), state=state, confirmation="parking-brake", reason="it does not hold")


def test_it_is_content_with_what_a_session_writes(walking: Any, listening: Any) -> None:
    seen(walking, listening.knowledge, list(listening.events))


def ended(talk: Any, *things: str, because: str = "refused") -> e.ThingsEnded:
    return e.ThingsEnded(**stamp(talk), things=things, because=because)


def again(talk: Any, *, without: str | None = None) -> list[e.Event]:
    """The card pressed and the state entered anew, with one line left out."""
    said = [event for event in talk.events if event.kind in ("step-offered", "thing-confirmed", "state-entered")]
    kept = [event for event in said if getattr(event, "confirmation", "") != without]
    return [event.model_copy(update=stamp(talk)) for event in kept]


def test_it_sees_a_no_that_ends_nothing(walking: Any, looking: Any) -> None:
    with pytest.raises(AssertionError, match="of its group stands"):
        seen(walking, looking.knowledge, [*looking.events, refused(looking)])


def test_it_sees_a_step_that_stands_after_a_no(walking: Any, looking: Any) -> None:
    told = [*looking.events, ended(looking, "parking-brake"), refused(looking), offered(looking)]
    with pytest.raises(AssertionError, match="parking-brake was last said not to be so"):
        seen(walking, looking.knowledge, told)


@pytest.mark.parametrize(
    ("what", "thing"), [("driven", "parking-brake"), ("turned", "all-at-rest"), ("ignition-on", "ignition-off")]
)
def test_it_sees_a_thing_that_outlives_what_ends_it(walking: Any, looking: Any, what: Any, thing: str) -> None:
    changed = e.SomethingChanged(**stamp(looking), what=what)
    with pytest.raises(AssertionError, match=f"{thing} was ended: {what}"):
        seen(walking, looking.knowledge, [*looking.events, changed, offered(looking)])


def test_it_sees_an_engine_that_is_left_running_without_its_person(walking: Any, listening: Any) -> None:
    changed = e.SomethingChanged(**stamp(listening), what="left-seat")
    with pytest.raises(AssertionError, match="at-the-key was ended: left-seat"):
        seen(walking, listening.knowledge, [*listening.events, changed, offered(listening)])


def test_it_sees_a_start_without_its_person(walking: Any, listening: Any) -> None:
    told = [event for event in listening.events if getattr(event, "confirmation", "") != "at-the-key"]
    with pytest.raises(AssertionError, match="entered without"):
        seen(walking, listening.knowledge, told)


def test_it_sees_a_look_that_is_older_than_a_drive(walking: Any, buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    forgetful = buzz.changed("driven")
    forgetful.state = dataclasses.replace(forgetful.state, look_again=())
    forgetful.play(c.Tick).enter()
    assert forgetful.asks == "check listen"
    with pytest.raises(AssertionError, match="older than a drive"):
        seen(walking, forgetful.knowledge, list(forgetful.events))


def test_it_sees_a_line_that_says_others_again_although_more_than_a_stop_came_between(
    walking: Any, listening: Any
) -> None:
    listening.play(c.EndRun)
    inside = e.SomethingChanged(**stamp(listening), what="stepped-in")
    said = e.ThingConfirmed(
        **stamp(listening),
        state="running",
        confirmation="started-again",
        name="Robin",
        says=("nobody-in", "at-the-key"),
        proof=("clear",),
    )
    seen(walking, listening.knowledge, [*listening.events, said])
    with pytest.raises(AssertionError, match="more than a stop has ended it"):
        seen(walking, listening.knowledge, [*listening.events, inside, said])


def test_it_sees_an_hour_with_hands_in_of_which_nobody_said_that_all_is_as_before(walking: Any, looking: Any) -> None:
    seen(walking, looking.knowledge, list(looking.events), later_ms=59 * MINUTE_MS)
    with pytest.raises(AssertionError, match="hands are in for an hour"):
        seen(walking, looking.knowledge, list(looking.events), later_ms=60 * MINUTE_MS)


@pytest.mark.parametrize("end", [e.SessionPaused, e.SessionResumed])
def test_it_sees_a_step_that_outlives_a_pause_without_any_lapse(walking: Any, looking: Any, end: type[e.Event]) -> None:
    told = [*looking.events, end(**stamp(looking)), offered(looking)]
    with pytest.raises(AssertionError, match=r"offered outside of stopped|left standing"):
        seen(walking, looking.knowledge, told)


def test_it_sees_a_step_that_outlives_new_rules(walking: Any, looking: Any) -> None:
    installed = e.RulesInstalled(**stamp(looking), rules=2, interlocks=looking.knowledge.interlocks)
    with pytest.raises(AssertionError, match="offered outside of stopped"):
        seen(walking, looking.knowledge, [*looking.events, installed, offered(looking)])


def test_it_holds_a_session_to_the_rules_that_were_installed(walking: Any, looking: Any) -> None:
    own = looking.knowledge.interlocks
    stopped = own.states["stopped"]
    stricter = stopped.model_copy(update={"confirmations": (*stopped.confirmations, "bay-clear")})
    interlocks = own.model_copy(update={"states": {**own.states, "stopped": stricter}})
    installed = e.RulesInstalled(**stamp(looking), rules=2, interlocks=interlocks)
    with pytest.raises(AssertionError, match=r"entered without .*things-out"):
        seen(walking, looking.knowledge, [*looking.events, installed, *again(looking)])


def test_it_lets_nothing_go_across_two_starts_of_the_clock(walking: Any, looking: Any) -> None:
    with pytest.raises(AssertionError, match="parking-brake was said by another clock"):
        seen(walking, looking.knowledge, list(looking.events), boots=1)


def test_it_sees_a_clock_that_goes_back(walking: Any, looking: Any) -> None:
    back = e.NoteAdded(**stamp(looking, clock_ms=looking.now_ms - 1), text="x")
    with pytest.raises(AssertionError, match="went back"):
        seen(walking, looking.knowledge, [*looking.events, back])


def test_it_sees_a_wall_clock_that_was_set_and_nothing_says_so(walking: Any, looking: Any) -> None:
    moved = stamp(looking, at_ms=looking.now_ms + 5000)
    seen(walking, looking.knowledge, [*looking.events, e.ClockShifted(**moved, by_ms=5000)])
    for event in (e.NoteAdded(**moved, text="x"), e.ClockShifted(**moved, by_ms=4000)):
        with pytest.raises(AssertionError, match="moved by 5000 ms, and nothing says so"):
            seen(walking, looking.knowledge, [*looking.events, event])


def test_it_sees_a_step_that_outlives_a_wall_clock_that_jumped(walking: Any, looking: Any) -> None:
    jumped = e.ClockShifted(**stamp(looking, at_ms=looking.now_ms - 61_000), by_ms=-61_000)
    told = [*looking.events, jumped, offered(looking).model_copy(update={"at_ms": looking.now_ms - 61_000})]
    with pytest.raises(AssertionError, match="offered outside of stopped"):
        seen(walking, looking.knowledge, told)


@pytest.fixture
def run(apart: Any) -> Any:
    """In a run without the belt."""
    apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter()
    return apart.play(c.StartRun)


def test_it_sees_a_run_past_its_limit(walking: Any, run: Any) -> None:
    seen(walking, run.knowledge, list(run.events), later_ms=29_999)
    with pytest.raises(AssertionError, match="past its limit"):
        seen(walking, run.knowledge, list(run.events), later_ms=30_000)


def test_it_sees_a_run_with_an_engine_that_is_not_cold(walking: Any, run: Any) -> None:
    watcher = walking.Watcher(run.knowledge)
    for event in run.events:
        if event.kind == "run-started":
            watcher.hot = watcher.ledger.now
            with pytest.raises(AssertionError, match="hot engine"):
                watcher.see(event)
            return
        watcher.see(event)


def test_it_sees_hands_in_while_nobody_says_that_the_engine_is_off(walking: Any, listening: Any) -> None:
    confirm = e.StepOffered(**stamp(listening), step=listening.step.model_copy(update={"kind": "confirm"}))
    with pytest.raises(AssertionError, match="confirm is offered, and the engine runs"):
        seen(walking, listening.knowledge, [*listening.events, confirm])
