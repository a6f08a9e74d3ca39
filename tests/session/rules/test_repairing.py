"""From the conclusion to the proof, and a cure that did not hold."""

from typing import Any

import pytest

from triage.record import events as e
from triage.session import commands as c

TORQUE = {"torque": "pulley-nut", "value_nm": 88.0, "text": "88 N·m", "wrench": "big one", "reference": "sheet 12"}


@pytest.fixture
def stiff(buzz: Any) -> Any:
    """At the conclusion that the pulley is stiff; a buzz and a leak were found on the way."""
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "buzz")
    return buzz.read("overrun-torque", "2.5 N·m")


def looked_round(talk: Any) -> Any:
    """The looks that let the engine run were made once more, after the work."""
    return talk.answer("belt-look", "sound").answer("leak-look", "dry")


@pytest.fixture
def proving(stiff: Any) -> Any:
    stiff.play(c.BeginRemedy).enter().play(c.RecordPart, part="pulley", done="renewed", note="one-way clutch")
    return stiff.play(c.RecordPart, part="tensioner", done="found-good").play(c.RecordTorque, **TORQUE)


def test_a_conclusion_carries_its_causes_and_the_way_there(stiff: Any) -> None:
    assert stiff.asks == "conclusion"
    reached = stiff.happened(e.ConclusionReached)[0]
    assert (reached.causes, reached.node, reached.end) == (("pulley-stiff",), "c-stiff", "")
    assert reached.path == ("heard", "belt-look", "leak-look", "listen", "overrun-torque")


def test_only_a_cause_can_be_put_right(buzz: Any) -> None:
    assert "not what is asked" in buzz.refuses(c.BeginRemedy)
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "quiet")
    buzz.off()
    assert buzz.state.concluded.end == "not-reproduced"
    assert "Nothing was found" in buzz.refuses(c.BeginRemedy)


def test_every_part_and_fastener_is_recorded_behind_the_interlock_of_the_work(stiff: Any) -> None:
    stiff.play(c.Pause).play(c.Resume).play(c.BeginRemedy)
    assert (stiff.asks, stiff.step.state) == ("confirm parking-brake", "isolated")
    assert "not what is asked" in stiff.refuses(c.RecordPart, part="pulley", done="renewed")
    stiff.enter()
    assert stiff.asks == "part pulley"
    assert "not the part" in stiff.refuses(c.RecordPart, part="tensioner", done="renewed")
    assert "not one of the answers" in stiff.refuses(c.RecordPart, part="pulley", done="painted")
    stiff.play(c.RecordPart, part="pulley", done="renewed").play(c.RecordPart, part="tensioner", done="left")
    assert stiff.asks == "torque pulley-nut"
    assert "not the fastener" in stiff.refuses(c.RecordTorque, **{**TORQUE, "torque": "wheel-nut"})
    for value in (0.0, -88.0):
        assert "no torque" in stiff.refuses(c.RecordTorque, **{**TORQUE, "value_nm": value})
    assert "Which wrench" in stiff.refuses(c.RecordTorque, **{**TORQUE, "wrench": ""})
    assert "Whose figure" in stiff.refuses(c.RecordTorque, **{**TORQUE, "reference": ""})
    stiff.play(c.RecordTorque, **TORQUE)
    done = stiff.state.torques_done[0]
    assert (done.value_nm, done.wrench, done.reference) == (88.0, "big one", "sheet 12")


def test_a_fastener_that_was_not_tightened_needs_no_wrench(stiff: Any) -> None:
    stiff.play(c.BeginRemedy).enter().play(c.RecordPart, part="pulley", done="left")
    stiff.play(c.RecordPart, part="tensioner", done="left")
    stiff.play(c.RecordTorque, **{**TORQUE, "value_nm": None, "wrench": "", "reference": ""})
    assert stiff.state.stage == "proving"


def test_findings_stand_while_the_repair_is_under_way(stiff: Any) -> None:
    stiff.play(c.BeginRemedy)
    assert "repair is under way" in stiff.refuses(c.TakeBack, check="listen")
    assert "repair is under way" in stiff.refuses(c.Correct, check="listen", outcomes=("quiet",))


def test_the_same_checks_are_made_again_once_with_hands_in_before_running(proving: Any) -> None:
    asked, sound = [], {"overrun-torque": "free", "listen": "quiet", "belt-look": "sound", "leak-look": "dry"}
    while proving.enter().step.kind != "prove":
        asked.append(proving.step.check)
        assert proving.step.proving
        proving.answer(asked[-1], sound[asked[-1]])
    assert asked == ["overrun-torque", "belt-look", "leak-look", "listen"], "looked round before the next start"
    assert len(proving.happened(e.WorkFinished)) == 1
    before, after = proving.state.findings, proving.state.after
    assert (before["listen"].outcomes, after["listen"].outcomes) == (("buzz",), ("quiet",))
    assert proving.play(c.Close, how="signed-off").state.closed == "signed-off"
    assert proving.happened(e.SessionClosed)[0].not_proved == ()


def test_what_could_not_be_repeated_proves_nothing_and_nothing_is_signed_off(proving: Any) -> None:
    looked_round(proving.answer("overrun-torque", "free")).cannot("listen").enter()
    assert (proving.step.kind, proving.step.proof) == ("prove", "not-provable")
    assert "not proved" in proving.refuses(c.Close, how="signed-off")
    proving.play(c.Close, how="without-repair", reason="the customer cannot wait")
    assert proving.happened(e.SessionClosed)[0].proof == "not-provable"


def test_a_proof_that_is_left_open_waits_and_is_made_again_after_a_look_round(proving: Any) -> None:
    looked_round(proving.answer("overrun-torque", "free")).cannot("listen").enter().play(c.LeaveProofOpen)
    assert (proving.step.kind, proving.step.proof) == ("paused", "not-provable")
    assert proving.happened(e.ProofLeftOpen)[0].again == ("listen",)
    proving.play(c.Resume)
    assert "listen" not in proving.state.after
    asked = []
    while proving.enter().step.kind != "prove":
        asked.append(proving.step.check)
        proving.answer(asked[-1], {"belt-look": "sound", "leak-look": "dry", "listen": "quiet"}[asked[-1]])
    assert asked == ["belt-look", "leak-look", "listen"]
    assert proving.step.proof == "proved-gone"
    assert proving.play(c.Close, how="signed-off").happened(e.SessionClosed)[0].proof == "proved-gone"


def test_a_check_that_was_normal_before_proves_nothing_by_being_normal_again(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    buzz.answer("listen", "not-sure").read("overrun-torque", "2.5 N·m").play(c.BeginRemedy).enter()
    for part in ("pulley", "tensioner"):
        buzz.play(c.RecordPart, part=part, done="renewed")
    looked_round(buzz.play(c.RecordTorque, **TORQUE).answer("overrun-torque", "free")).answer("listen", "quiet")
    assert buzz.enter().step.proof == "not-provable"


def test_nothing_is_signed_off_where_a_clock_has_ended_what_was_taken_off_at_that_moment(proving: Any) -> None:
    sound = {"overrun-torque": "free", "listen": "quiet", "belt-look": "sound", "leak-look": "dry"}
    while proving.enter().step.kind != "prove":
        proving.answer(proving.step.check, sound[proving.step.check])
    jumped = {"clock_ms": proving.now_ms + 91_000, "how": "signed-off"}
    assert "run out" in proving.refuses(c.Close, **jumped)
    assert proving.play(c.Close, how="signed-off").state.closed == "signed-off"


def test_nothing_is_signed_off_while_a_repeated_check_is_not_normal(proving: Any) -> None:
    assert "not what is asked" in proving.refuses(c.Close, how="signed-off")
    looked_round(proving.answer("overrun-torque", "free")).answer("listen", "buzz").enter()
    assert "Not cured yet: Listen while it coasts" in proving.refuses(c.Close, how="signed-off")
    proving.play(c.Correct, check="listen", outcomes=("quiet",)).enter().play(c.Close, how="signed-off")
    assert proving.state.closed == "signed-off"


def test_a_proof_is_corrected_without_touching_what_was_found_before(proving: Any) -> None:
    looked_round(proving.answer("overrun-torque", "free")).answer("listen", "buzz").off().play(
        c.TakeBack, check="listen"
    )
    assert (proving.step.check, proving.step.proving) == ("listen", True)
    assert proving.state.findings["listen"].outcomes == ("buzz",)
    assert "no such finding" in proving.refuses(c.TakeBack, check="heard")


def test_a_complaint_that_is_still_there_sends_the_search_on(proving: Any) -> None:
    assert "not what is asked" in proving.refuses(c.NotCured)
    looked_round(proving.answer("overrun-torque", "free")).answer("listen", "buzz").enter().play(c.NotCured)
    assert (proving.state.stage, proving.state.rounds) == ("finding", 2)
    assert proving.state.findings["overrun-torque"].outcomes == ("free",)
    assert proving.step.check == "cap-look"
    proving.answer("cap-look", "metal").play(c.BeginRemedy).enter()
    assert proving.asks == "part pulley", "the second repair starts with clean hands"


def test_what_was_strange_and_not_checked_again_counts_no_more(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").answer("overrun-torque", "free")
    buzz.answer("cap-look", "metal").play(c.BeginRemedy).enter()
    for part in ("pulley", "tensioner"):
        buzz.play(c.RecordPart, part=part, done="renewed")
    buzz.play(c.RecordTorque, **TORQUE).answer("overrun-torque", "free")
    assert buzz.asks == "blocked belt-look", "nobody could tell how the belt is"
    buzz.play(c.PutRight, check="belt-look", done="looked with a lamp").answer("belt-look", "sound")
    assert buzz.asks == "check leak-look", "a look that the way to the cause passed by comes before the engine runs"
    buzz.answer("leak-look", "dry").answer("listen", "buzz").enter()
    assert buzz.asks == "prove", "the cap uses a cap up and is not opened again"
    buzz.play(c.NotCured)
    assert buzz.happened(e.NotCured)[0].stale == ("cap-look",)
    assert "cap-look" not in buzz.state.findings
    assert buzz.step.check == "cap-look", "with belt and leaks seen now, the tree's own way goes on"


def test_a_leak_shuts_the_running_proof_until_it_is_put_right_and_found_dry(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "leak")
    buzz.read("overrun-torque", "2.5 N·m").play(c.BeginRemedy).enter()
    for part in ("pulley", "tensioner"):
        buzz.play(c.RecordPart, part=part, done="renewed")
    buzz.play(c.RecordTorque, **TORQUE).answer("overrun-torque", "free").answer("leak-look", "leak")
    assert buzz.asks == "blocked leak-look"
    buzz.play(c.PutRight, check="leak-look", done="new hose").answer("leak-look", "dry").answer("belt-look", "sound")
    buzz.answer("listen", "quiet").enter()
    assert buzz.step.proof == "not-provable", "nobody had listened before the repair"


def test_nothing_is_signed_off_that_must_not_run(apart: Any) -> None:
    apart.answer("belt-look", "torn").play(c.BeginRemedy).enter().play(c.RecordPart, part="belt", done="left")
    apart.enter().cannot("belt-look").enter()
    assert apart.asks == "prove"
    assert "Not cured yet: Look at the belt" in apart.refuses(c.Close, how="signed-off")
