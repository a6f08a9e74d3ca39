"""Replay: the events alone make the same state, on any machine."""

import random
from collections.abc import Sequence, Sized
from typing import Any, get_args

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.record.event import Stamped
from triage.session import commands as c
from triage.session.acts import MOST_ACTS
from triage.session.evolving import fold
from triage.session.interlocks import closing_check
from triage.session.state import State


def whole(buzz: Any) -> Any:
    """A session with a bit of everything, from complaint to sign-off."""
    buzz.play(c.EnterMakerFigure, figure="overrun-stiff", value=2.0, text="2 N·m", reference="sheet 12")
    buzz.answer("heard", "yes-heard").confirm("parking-brake")
    buzz.play(c.RefuseConfirmation, confirmation="all-at-rest").play(c.SayWhy, reason="fan turns").play(c.TryAgain)
    buzz.answer("belt-look", "sound").answer("leak-look", "leak").play(c.Correct, check="leak-look", outcomes=("dry",))
    buzz.answer("listen", "buzz", "chirp").play(c.Note, text="loud").play(c.HandOver, to="Robin").play(c.Resume)
    buzz.off().changed("joined")
    buzz.read("overrun-torque", "2.01 N·m").read("overrun-torque", "2.05 N·m").play(c.BeginRemedy).tick(200).enter()
    for part in ("pulley", "tensioner"):
        buzz.play(c.RecordPart, part=part, done="renewed")
    buzz.play(c.RecordTorque, torque="pulley-nut", value_nm=88.0, text="88 N·m", wrench="big one", reference="sheet 12")
    buzz.read("overrun-torque", "0.4 N·m").answer("belt-look", "sound").answer("leak-look", "dry").cannot("listen")
    buzz.play(c.TakeBack, check="listen").answer("listen", "quiet").enter()
    return buzz.play(c.Close, how="signed-off", reason="", head="90 abc")


def test_events_read_back_from_json_make_the_same_state(buzz: Any) -> None:
    session = whole(buzz)
    assert session.state.closed == "signed-off"
    assert session.replayed() == session.state == fold(session.events)


def test_a_state_is_the_fold_of_its_events_after_every_single_one(buzz: Any) -> None:
    session = whole(buzz)
    step_by_step = fold(())
    for count, event in enumerate(session.events, start=1):
        step_by_step = fold((event,), step_by_step)
        assert step_by_step == fold(session.events[:count])
        assert step_by_step.events == count


def test_every_event_belongs_to_one_family_and_so_to_every_match_over_events() -> None:
    families = (e.OfVehicle, e.OfInterlock, e.OfEngine, e.OfChecks, e.OfReasoning, e.OfRepair, e.OfKeeping)
    members = [event for family in families for event in get_args(family)]
    assert len(members) == len(set(members))
    assert set(members) == set(get_args(e.Event)) == set(Stamped.__subclasses__())
    assert set(e.KINDS.values()) == set(members) - {e.NotUnderstood}


@pytest.mark.parametrize("kind", [e.SessionPaused, e.SessionResumed, e.RulesInstalled])
def test_each_of_the_events_about_a_session_left_ends_what_was_confirmed_by_itself(
    listening: Any, kind: type[e.Event]
) -> None:
    # One comes after the other; a trace from which one was taken out must not keep anything alive.
    before = listening.state
    assert before.standing
    more = {"rules": 2, "interlocks": listening.knowledge.interlocks} if kind is e.RulesInstalled else {}
    event = kind.model_validate({"at_ms": 0, "who": "Ana", "clock_ms": 0, "boot": before.boot, **more})
    assert not fold((event,), before).standing


def test_a_hand_made_session_is_seen_by_the_watcher_as_sound(buzz: Any, walking: Any) -> None:
    session = whole(buzz)
    watcher = walking.Watcher(session.knowledge)
    for event in session.events:
        watcher.see(event)
        if event.kind == "step-offered":
            watcher.look()


def closed_by(small: Knowledge, told: Sequence[e.CheckAnswered]) -> str:
    """The check that keeps the engine off, by everything that was ever told."""
    latest: dict[str, bool] = {}
    for event in told:
        for outcome in small.checks[event.check].outcomes:
            if outcome.id in event.outcomes and not outcome.says_nothing:
                latest[event.check] = bool(outcome.closes_running)
    return next((check for check, closes in latest.items() if closes), "")


@pytest.mark.parametrize("seed", range(20))
def test_what_keeps_the_engine_off_is_the_same_as_by_every_finding_ever_told(small: Knowledge, seed: int) -> None:
    rng = random.Random(seed)
    told: list[e.CheckAnswered] = []
    state = State()
    for at_ms in range(200):
        check = small.checks[rng.choice(["belt-look", "leak-look", "heard"])]
        outcomes = (rng.choice(check.outcomes).id,) if rng.random() < 0.9 else ()
        stamp: c.Stamp = {"at_ms": at_ms, "who": "Kim", "clock_ms": at_ms, "boot": 1}
        told.append(e.CheckAnswered(**stamp, check=check.id, outcomes=outcomes, proving=False))
        state = fold(told[-1:], state)
        assert closing_check(small, state) == closed_by(small, told)


def test_what_a_state_keeps_does_not_grow_with_the_length_of_a_session() -> None:
    stamp: c.Stamp = {"at_ms": 1, "who": "Kim", "clock_ms": 1, "boot": 1}
    found = [
        e.CheckAnswered(**stamp, check="belt-look", outcomes=(outcome,), proving=False)
        for outcome in ("sound", "torn", "cannot-tell")
    ]
    back = e.FindingTakenBack(**stamp, check="belt-look")
    remark = e.NoteAdded(**stamp, text="it ticks")
    long = [event for one in found for event in (one, remark, back)] * 50
    state = fold(long)
    assert len(state.told) == 2 * len(found)
    sizes = [len(value) for name, value in vars(state).items() if isinstance(value, Sized) and name != "acts"]
    assert len(state.acts) <= MOST_ACTS
    assert max(sizes) < 10, "something grows with every event"
