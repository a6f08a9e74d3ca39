"""Who acts at the vehicle under another name has joined: what everyone near said holds for one more now."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c


def by(session: Any, who: str, kind: type[c.Command], **given: Any) -> Any:
    """Another person gives a command."""
    return session.give(kind(at_ms=session.now_ms + 1000, who=who, **given))


def test_a_colleague_who_answers_ends_what_everyone_near_said(mounting: Any) -> None:
    by(mounting, "Robin", c.Answer, check="mounting", outcomes=("sound",))
    assert mounting.happened(e.SomethingChanged)[-1].what == "joined"
    assert mounting.open == ["people"]
    assert "mounting" not in mounting.state.findings, "it was answered before anybody looked at who is there"
    by(mounting, "robin ", c.Confirm, confirmation="people")
    by(mounting, "Robin", c.Answer, check="mounting", outcomes=("sound",))
    assert "mounting" in mounting.state.findings
    assert len(mounting.happened(e.SomethingChanged)) == 1


def test_a_colleague_who_answers_beside_the_running_engine_asks_to_switch_it_off(listening: Any) -> None:
    by(listening, "Robin", c.Answer, check="listen", outcomes=("quiet",))
    assert listening.step.kind == "switch-off"
    by(listening, "Lou", c.EndRun)
    assert listening.state.condition.engine == "stopped", "that it is off is taken from anybody"


def test_nobody_starts_an_engine_who_was_not_there_when_everyone_was_out(apart: Any) -> None:
    apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter()
    assert apart.step.kind == "run-ready"
    by(apart, "Lou", c.StartRun)
    assert not apart.happened(e.RunStarted)
    assert apart.step.kind == "confirm"


@pytest.mark.parametrize(("kind", "given"), [(c.Note, {"text": "rust"}), (c.TakeBack, {"check": "heard"})])
def test_a_note_or_a_correction_by_another_ends_nothing(listening: Any, kind: Any, given: Any) -> None:
    standing = listening.state.standing
    assert by(listening, "Lou", kind, **given).state.standing == standing


def test_what_is_asked_of_people_is_taken_from_anybody_where_nothing_is_ended_by_it(mounting: Any) -> None:
    mounting.play(c.LeaveRound).play(c.TakeBack, check="complaint-heard")
    assert mounting.step.check == "complaint-heard"
    by(mounting, "Lou", c.Answer, check="complaint-heard", outcomes=("heard-now",))
    assert mounting.state.findings["complaint-heard"].who == "Lou"


def test_another_person_at_the_key_has_joined(listening: Any) -> None:
    listening.play(c.EndRun).changed("left-seat")
    assert {"nobody-in", "at-the-key"} <= set(listening.open)
    listening.play(c.Confirm, confirmation="nobody-in").play(c.Confirm, confirmation="at-the-key", name="Robin")
    assert listening.asks == "check listen", "the same person again"
    listening.play(c.EndRun).changed("left-seat")
    listening.play(c.Confirm, confirmation="nobody-in").play(c.Confirm, confirmation="at-the-key", name="Lou")
    assert listening.open == ["nobody-in"]
    assert listening.happened(e.SomethingChanged)[-1].what == "joined"
