"""What was found before the session, told: known, weighed, and never seen."""

from typing import Any

from triage.record import events as e
from triage.session import commands as c
from triage.session.audit import objections
from triage.session.interlocks import closing_check

LOOKS = (("belt-look", "sound"), ("leak-look", "dry"))


def tells(session: Any, check: str, *outcomes: str, by: str = "the night shift") -> Any:
    return session.play(c.TellFinding, check=check, outcomes=outcomes, by=by)


def test_the_tree_goes_on_from_what_was_told(buzz: Any) -> None:
    tells(buzz, "heard", "yes-heard")
    assert buzz.step.check == "belt-look"
    assert buzz.state.findings["heard"].told_by == "the night shift"


def test_a_look_that_was_told_of_is_made_before_the_engine_starts(buzz: Any) -> None:
    for check, outcome in (("heard", "yes-heard"), *LOOKS):
        tells(buzz, check, outcome)
    asked = []
    while buzz.enter().step.check != "listen":
        asked.append(buzz.step.check)
        buzz.answer(buzz.step.check, buzz.knowledge.checks[buzz.step.check].outcomes[0].id)
    assert sorted(asked) == sorted(check for check, _ in LOOKS)
    assert not any(found.told_by for check, found in buzz.state.findings.items() if check != "heard")


def test_a_bad_look_that_was_told_of_keeps_the_engine_off(buzz: Any) -> None:
    for check, outcome in (("heard", "yes-heard"), ("belt-look", "sound"), ("leak-look", "leak")):
        tells(buzz, check, outcome)
    assert buzz.step.check == "overrun-torque"
    assert "may not be made" in buzz.refuses(c.AskFor, check="listen")
    tells(buzz.play(c.TakeBack, check="leak-look"), "leak-look", "dry")
    assert closing_check(buzz.knowledge, buzz.state) == "leak-look", "nobody here has seen that it is dry"
    buzz.play(c.AskFor, check="leak-look").answer("leak-look", "dry")
    assert not closing_check(buzz.knowledge, buzz.state)


def test_telling_does_not_stand_in_for_what_is_to_be_looked_at_again(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").changed("driven").play(c.TakeBack, check="belt-look")
    assert "cannot be told" in buzz.refuses(c.TellFinding, check="belt-look", outcomes=("sound",), by="Kim")


def test_nothing_is_told_beside_a_running_engine_nor_after_the_search(listening: Any) -> None:
    told = {"check": "idler-spin", "outcomes": ("rough",), "by": "Kim"}
    assert "here" in listening.refuses(c.TellFinding, **told)
    listening.answer("listen", "chirp").off().answer("idler-spin", "rough").play(c.BeginRemedy)
    assert "here" in listening.refuses(c.TellFinding, check="overrun-torque", outcomes=("free",), by="Kim")


def test_what_was_told_is_not_put_right_beside_a_running_engine(buzz: Any) -> None:
    tells(buzz, "idler-spin", "smooth")
    while buzz.enter().step.check != "listen":
        buzz.answer(buzz.step.check, buzz.knowledge.checks[buzz.step.check].outcomes[0].id)
    assert buzz.state.condition.engine == "running"
    assert "running engine" in buzz.refuses(c.Correct, check="idler-spin", outcomes=("rough",))
    buzz.play(c.EndRun).play(c.Correct, check="idler-spin", outcomes=("rough",))
    assert buzz.state.findings["idler-spin"].told_by


def test_what_nobody_found_and_what_is_no_answer_is_refused(buzz: Any) -> None:
    assert "empty" in buzz.refuses(c.TellFinding, check="belt-look", outcomes=("sound",), by=" ")
    assert "not an answer" in buzz.refuses(c.TellFinding, check="belt-look", outcomes=("blue",), by="Kim")
    assert "cannot be told" in buzz.refuses(c.TellFinding, check="nowhere", outcomes=("sound",), by="Kim")


def test_a_reading_is_told_where_it_is_clear(buzz: Any) -> None:
    parts = buzz.typed("overrun-torque", "3 N·m")
    buzz.play(c.TellFinding, check="overrun-torque", outcomes=(), by="the last shop", parts=parts)
    found = buzz.state.findings["overrun-torque"]
    assert (found.outcomes, found.said, found.told_by) == (("stiff",), "3 N·m", "the last shop")
    close = buzz.typed("overrun-torque", "1.0 N·m")
    buzz.play(c.TakeBack, check="overrun-torque")
    assert "too close" in buzz.refuses(c.TellFinding, check="overrun-torque", outcomes=(), by="Kim", parts=close)


def test_what_was_told_can_be_made_here_after_all(buzz: Any) -> None:
    tells(tells(buzz, "heard", "yes-heard"), "belt-look", "sound").play(c.AskFor, check="belt-look")
    buzz.answer("belt-look", "torn")
    assert buzz.state.findings["belt-look"].outcomes == ("torn",)
    assert not buzz.state.findings["belt-look"].told_by


def test_a_correction_of_what_was_told_stays_told(buzz: Any) -> None:
    tells(buzz, "belt-look", "torn").play(c.Correct, check="belt-look", outcomes=("sound",))
    assert buzz.state.findings["belt-look"].told_by == "the night shift"
    assert not buzz.happened(e.CheckAnswered)


def test_a_correction_of_what_was_told_leaves_the_look_waiting(buzz: Any) -> None:
    tells(tells(buzz, "heard", "yes-heard"), "belt-look", "torn").changed("driven")
    assert "belt-look" in buzz.state.look_again
    buzz.play(c.Correct, check="belt-look", outcomes=("sound",))
    assert "belt-look" in buzz.state.look_again
    dated = [event.model_copy(update={"at_ms": event.at_ms + 1_767_225_600_000}) for event in buzz.events]
    assert not list(objections(dated))


def test_what_was_told_is_taken_back_whole_and_reads_back_alike(buzz: Any) -> None:
    before = buzz.state
    tells(buzz, "leak-look", "dry")
    assert buzz.replayed() == buzz.state
    assert buzz.play(c.Undo).state.findings == before.findings
    assert buzz.state.look_again == ("leak-look",), "nobody knows any more that the engine may run"


def test_telling_uses_up_nothing_and_does_nothing_to_the_vehicle(buzz: Any) -> None:
    before = buzz.state
    tells(buzz, "cap-look", "clean")
    assert (buzz.state.condition, buzz.state.standing, buzz.state.runs) == (before.condition, {}, 0)
    assert not [event for event in buzz.last if isinstance(event, e.ThingsEnded | e.VehicleTurned)]


def test_a_complaint_that_only_somebody_else_heard_is_not_proved_gone(buzz: Any) -> None:
    tells(tells(buzz, "heard", "yes-heard"), "listen", "chirp").answer("belt-look", "sound").answer("leak-look", "dry")
    buzz.answer("idler-spin", "rough")
    buzz.play(c.BeginRemedy).enter().play(c.RecordPart, part="idler", done="renewed")
    while buzz.step.check:
        check = buzz.knowledge.checks[buzz.enter().step.check]
        buzz.answer(check.id, check.outcomes[0].id)
        if buzz.step.kind == "switch-off":
            buzz.off()
    buzz.enter()
    assert (buzz.step.kind, buzz.step.proof) == ("prove", "not-provable")
