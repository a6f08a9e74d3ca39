"""Taking back the last act: exactly that, whatever it was."""

from typing import Any

import pytest

from triage.app.respondent import Respondent
from triage.record import events as e
from triage.session import commands as c
from triage.session.audit.walk import objections
from triage.session.evolving import fold


@pytest.fixture
def proving(buzz: Any) -> Any:
    """The repair is recorded; its proof begins."""
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "buzz")
    buzz.read("overrun-torque", "2.5 N·m").play(c.BeginRemedy)
    for _ in range(60):
        if buzz.state.stage != "working":
            return buzz
        command = Respondent().answer(buzz.knowledge, buzz.state, buzz.now_ms + 1000)
        assert command is not None
        buzz.give(command)
    return buzz


def taken_back(talk: Any) -> tuple[str, ...]:
    (event,) = [event for event in talk.last if isinstance(event, e.ActUndone)]
    # The day of the small world is long before any session.
    assert not [one for one in objections(talk.events) if one.line > 1]
    assert fold(talk.events) == talk.state
    return (event.act, *event.about)


def test_a_finding_is_taken_back_and_asked_again(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound")
    before = buzz.state
    buzz.answer("leak-look", "dry").play(c.Undo)
    assert taken_back(buzz) == ("check-answered", "leak-look")
    assert buzz.state.findings == before.findings
    assert buzz.step.check == "leak-look"


def test_acts_are_taken_back_one_after_the_other_down_to_the_first_question(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard")
    told = [buzz.play(c.Undo) and taken_back(buzz) for _ in range(5)]
    assert told == [
        ("check-answered", "heard"),
        ("fact-told", "cylinders"),
        ("fact-told", "odometer"),
        ("fact-told", "pulley"),
        ("gate-answered",),
    ]
    assert buzz.step.kind == "gate"
    assert "nothing to take back" in buzz.refuses(c.Undo)


def test_not_cured_is_taken_back_and_proof_and_repair_stand_as_they_were(proving: Any) -> None:
    for _ in range(60):
        if proving.step.kind == "prove":
            break
        command = Respondent().answer(proving.knowledge, proving.state, proving.now_ms + 1000)
        assert command is not None
        proving.give(command)
    before = proving.state
    proving.play(c.NotCured)
    assert proving.state.after == {}
    proving.play(c.Undo)
    assert taken_back(proving) == ("not-cured",)
    for name in ("stage", "findings", "after", "concluded", "parts_done", "torques_done", "remedies", "rounds"):
        assert getattr(proving.state, name) == getattr(before, name), name
    assert proving.step.kind == "prove"


def test_a_note_is_an_act_and_taking_it_back_leaves_the_finding_before_it_alone(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").play(c.Note, text="a drop of oil")
    buzz.play(c.Undo)
    assert taken_back(buzz) == ("note-added",)
    assert "heard" in buzz.state.findings


def test_a_correction_is_one_act_and_the_answer_of_before_stands_again(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    before = buzz.state.findings
    buzz.play(c.Correct, check="heard", outcomes=("not-now",)).play(c.Undo)
    assert taken_back(buzz) == ("finding-taken-back", "heard")
    assert buzz.state.findings == before


def test_a_line_that_was_pressed_is_open_again_and_the_others_stand(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard")
    first, second = buzz.step.lines[:2]
    buzz.confirm(first, second).play(c.Undo)
    assert taken_back(buzz) == ("thing-confirmed", second)
    assert first in buzz.state.standing
    assert second not in buzz.state.standing
    assert second in buzz.open


def test_the_last_line_before_a_start_is_taken_back_only_with_the_engine_switched_off(listening: Any) -> None:
    assert listening.state.condition.engine == "running"
    listening.play(c.Undo)
    assert taken_back(listening)[0] == "thing-confirmed"
    assert listening.step.kind == "switch-off"


def test_a_look_that_forbade_running_is_made_again_before_a_start(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn").play(c.Undo)
    assert taken_back(buzz) == ("check-answered", "belt-look")
    assert "belt-look" in buzz.state.look_again
    buzz.enter()
    assert buzz.step.check == "belt-look"


def test_what_a_correction_made_sound_forbids_running_again_when_it_is_taken_back(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    buzz.play(c.Correct, check="belt-look", outcomes=("sound",)).play(c.Undo)
    assert taken_back(buzz) == ("finding-taken-back", "belt-look")
    assert buzz.state.findings["belt-look"].outcomes == ("torn",)
    for _ in range(20):
        if buzz.state.concluded:
            break
        buzz.enter()
        assert buzz.state.condition.engine == "stopped"
        buzz.play(c.CannotDo, check=buzz.step.check, reason="no time")


def test_what_happened_to_the_vehicle_or_to_people_is_never_taken_back(listening: Any) -> None:
    listening.play(c.EndRun)
    assert "engine has run" in listening.refuses(c.Undo)
    listening.play(c.SayChanged, what="joined")
    assert "cannot be taken back" in listening.refuses(c.Undo)
    listening.play(c.Pause).play(c.Resume)
    assert "since you came back" in listening.refuses(c.Undo)


def test_a_no_stays_a_no(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard")
    buzz.play(c.RefuseConfirmation, confirmation=buzz.step.lines[0])
    assert "no" in buzz.refuses(c.Undo)


def test_a_look_that_was_taken_back_is_made_again_whatever_else_is_taken_back_after_it(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    buzz.play(c.Undo).play(c.Undo)
    assert taken_back(buzz) == ("check-answered", "belt-look")
    assert set(buzz.state.look_again) == {"belt-look", "leak-look"}
