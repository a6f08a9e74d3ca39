"""Notes, maker's figures, leaving and coming back, handing over, closing, ticking."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c


def test_a_note_is_kept_and_changes_nothing_else(listening: Any) -> None:
    step = listening.step
    listening.play(c.Note, text=" smells of coolant ")
    (note,) = listening.happened(e.NoteAdded)
    assert (note.at_ms, note.who, note.text) == (listening.now_ms, "Kim", "smells of coolant")
    assert listening.step == step
    assert "note is empty" in listening.refuses(c.Note, text=" ")
    assert "too long" in listening.refuses(c.Note, text="x" * 2001)


def test_a_pause_ends_every_confirmation_and_only_some_commands_go_on(listening: Any) -> None:
    listening.play(c.Pause)
    assert listening.happened(e.ThingsEnded)[-1].because == "paused"
    assert listening.asks == "paused"
    assert "paused" in listening.refuses(c.Pause)
    assert "paused" in listening.refuses(c.Answer, check="listen", outcomes=("buzz",))
    assert "paused" in listening.refuses(c.TakeBack, check="heard")
    listening.play(c.Note, text="lunch").play(c.Tick).play(c.Resume).off()
    assert (listening.asks, listening.step.check) == ("confirm parking-brake", "belt-look"), "looked at again first"
    assert "not paused" in listening.refuses(c.Resume)


def test_a_colleague_takes_over_at_the_vehicle_and_confirms_anew(listening: Any) -> None:
    assert "colleague's name is empty" in listening.refuses(c.HandOver, to=" ")
    listening.play(c.HandOver, to="Robin", head="12 abc")
    assert (listening.asks, listening.state.holder) == ("paused", "Robin")
    assert listening.happened(e.ThingsEnded)[-1].because == "handed-over"
    assert listening.happened(e.SessionHandedOver)[0].head == "12 abc"
    assert listening.play(c.Resume).off().step.kind == "confirm"


@pytest.mark.parametrize(("kind", "given"), [(c.Pause, {}), (c.HandOver, {"to": "Robin"})])
def test_leaving_in_the_middle_of_a_run_asks_for_the_engine_first(apart: Any, kind: Any, given: Any) -> None:
    apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter().play(c.StartRun)
    apart.play(kind, **given)
    assert "engine may still be running" in apart.refuses(c.Close, how="without-repair", reason="gone home")
    apart.play(c.Resume)
    assert (apart.step.kind, apart.step.state) == ("run-over", "running-belt-off")
    assert apart.play(c.EndRun).step.kind == "result"


def test_the_makers_figure_wins_and_says_whose_it_is(measuring: Any) -> None:
    figure = {"figure": "overrun-stiff", "value": 3.0, "text": "3 N·m", "reference": "sheet 12"}
    assert "no such figure" in measuring.refuses(c.EnterMakerFigure, **{**figure, "figure": "belt-width"})
    assert "stands is empty" in measuring.refuses(c.EnterMakerFigure, **{**figure, "reference": ""})
    measuring.play(c.EnterMakerFigure, **figure).read("overrun-torque", "2.5 N·m")
    finding = measuring.state.findings["overrun-torque"]
    assert finding.outcomes == ("borderline",)
    assert (finding.verdict.limit, finding.verdict.limit_source) == (3.0, "maker: sheet 12")


def test_a_makers_figure_that_crosses_the_limit_beside_it_is_refused(measuring: Any) -> None:
    figure = {"figure": "overrun-free", "text": "2 N·m", "reference": "sheet 12"}
    for value in (1.5, 2.0):
        assert "does not fit" in measuring.refuses(c.EnterMakerFigure, **figure, value=value)
    measuring.play(c.EnterMakerFigure, figure="overrun-stiff", value=2.5, text="2.5 N·m", reference="sheet 12")
    measuring.play(c.EnterMakerFigure, figure="overrun-free", value=2.0, text="2 N·m", reference="sheet 12")
    assert measuring.read("overrun-torque", "1.5 N·m").state.findings["overrun-torque"].outcomes == ("free",)


def test_what_was_judged_without_the_makers_figure_is_measured_again(measuring: Any) -> None:
    measuring.read("overrun-torque", "2.5 N·m")
    assert measuring.state.concluded.causes == ("pulley-stiff",)
    measuring.play(c.EnterMakerFigure, figure="overrun-stiff", value=3.0, text="3 N·m", reference="sheet 12")
    assert (measuring.step.check, measuring.state.concluded) == ("overrun-torque", None)
    assert measuring.asks == "check overrun-torque", "hands are where they were"


def test_a_session_is_closed_without_repair_at_any_moment_but_with_a_reason(listening: Any) -> None:
    assert "may still be running" in listening.refuses(c.Close, how="without-repair", reason="customer left")
    listening.play(c.EndRun)
    assert "reason is empty" in listening.refuses(c.Close, how="without-repair")
    assert "signed off, or closed" in listening.refuses(c.Close, how="somehow")
    assert "not what is asked" in listening.refuses(c.Close, how="signed-off")
    listening.play(c.Close, how="without-repair", reason="customer left", off=("nothing-left",), head="20 abc")
    assert (listening.asks, listening.state.closed) == ("closed", "without-repair")
    assert listening.happened(e.SessionClosed)[0].head == "20 abc"
    for kind, given in ((c.Tick, {}), (c.Note, {"text": "late"}), (c.Resume, {}), (c.HandOver, {"to": "Robin"})):
        assert "closed" in listening.refuses(kind, **given)


def test_a_paused_session_can_be_closed(measuring: Any) -> None:
    closing = {"how": "without-repair", "reason": "sold", "off": ("nothing-left",)}
    assert measuring.play(c.Pause).play(c.Close, **closing).state.closed


def test_before_a_vehicle_leaves_unrepaired_what_was_clipped_on_is_off_too(measuring: Any) -> None:
    assert "Everything is off" in measuring.refuses(c.Close, how="without-repair", reason="sold")
    assert "Everything is off" in measuring.refuses(c.Close, how="without-repair", reason="sold", off=("leads-off",))
    measuring.play(c.Close, how="without-repair", reason="sold", off=("nothing-left", "leads-off"))
    assert [event.confirmation for event in measuring.last if isinstance(event, e.ThingConfirmed)] == ["nothing-left"]
    assert measuring.state.closed


def test_where_no_hand_was_in_nothing_is_asked_before_the_vehicle_leaves(buzz: Any) -> None:
    assert buzz.answer("heard", "yes-heard").play(c.Close, how="without-repair", reason="sold").state.closed


def test_a_session_that_was_left_with_the_engine_running_is_closed_once_it_is_off(listening: Any) -> None:
    listening.play(c.Pause)
    assert "may still be running" in listening.refuses(c.Close, how="without-repair", reason="sold")
    listening.play(c.Resume).off()
    assert listening.play(c.Close, how="without-repair", reason="sold", off=("nothing-left",)).state.closed


def test_a_tick_that_ends_nothing_leaves_nothing(listening: Any) -> None:
    assert listening.tick().last == ()
