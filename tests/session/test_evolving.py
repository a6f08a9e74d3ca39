"""Replay: the events alone make the same state, on any machine."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c
from triage.session.evolving import _RULES, fold


def whole(buzz: Any) -> Any:
    """A session with a bit of everything, from complaint to sign-off."""
    buzz.play(c.EnterMakerFigure, figure="overrun-stiff", value=2.0, text="2 N·m", reference="sheet 12")
    buzz.answer("heard", "yes-heard").confirm("parking-brake")
    buzz.play(c.RefuseConfirmation, confirmation="all-at-rest", reason="fan turns").play(c.TryAgain)
    buzz.answer("belt-look", "sound").answer("leak-look", "leak").play(c.Correct, check="leak-look", outcomes=("dry",))
    buzz.answer("listen", "buzz", "chirp").play(c.Note, text="loud").play(c.HandOver, to="Robin").play(c.Resume)
    buzz.read("overrun-torque", "2.01 N·m").read("overrun-torque", "2.05 N·m").play(c.BeginRemedy).tick(200).enter()
    for part in ("pulley", "tensioner"):
        buzz.play(c.RecordPart, part=part, done="renewed")
    buzz.play(c.RecordTorque, torque="pulley-nut", value_nm=88.0, text="88 N·m", wrench="big one", reference="sheet 12")
    buzz.read("overrun-torque", "0.4 N·m").cannot("listen").play(c.TakeBack, check="listen").answer("listen", "quiet")
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


@pytest.mark.parametrize("kind", sorted(e.KINDS))
def test_every_kind_of_event_has_its_rule(kind: str) -> None:
    assert e.KINDS[kind] in _RULES


def test_a_hand_made_session_is_seen_by_the_watcher_as_sound(buzz: Any, walking: Any) -> None:
    session = whole(buzz)
    watcher = walking.Watcher(session.knowledge)
    for event in session.events:
        watcher.see(event)
        if event.kind == "step-offered":
            watcher.look()
