"""A round: what one person does in one go is one step, its lines answered in any order, and what ends it."""

from dataclasses import replace
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.present.steps.rounds import round_view
from triage.record import events as e
from triage.session import commands as c
from triage.session.audit import objections
from triage.session.rounds import in_order
from triage.session.state import Finding


@pytest.fixture
def looking(small: Knowledge, talk: Any) -> Any:
    """At the first round, by torch."""
    return talk(small, "buzz-round").told().enter()


@pytest.fixture
def turning(looking: Any) -> Any:
    """With the belt off."""
    return looking.answer("belt-look", "sound").answer("leak-look", "dry").enter()


@pytest.fixture
def running(turning: Any) -> Any:
    """In the one run, with the clips on."""
    for check, outcome in (("idler-spin", "smooth"), ("arm-spin", "comes-back"), ("seat-feel", "tight")):
        turning.answer(check, outcome)
    return turning.enter()


def sound(talk: Any) -> None:
    """Nothing that was written could not have been."""
    # The talk is dated in 1970, which its first line alone says.
    assert [one.reason for one in objections(talk.events) if one.line > 1] == []
    assert talk.replayed() == talk.state


def test_all_open_lines_of_a_stand_are_one_step(looking: Any) -> None:
    assert (looking.step.kind, looking.step.round, looking.step.check) == ("round", "look", "belt-look")
    assert looking.step.open == looking.step.lines == ("belt-look", "leak-look")


def test_lines_are_answered_in_any_order_and_keep_their_numbers(turning: Any) -> None:
    turning.play(c.Answer, check="arm-spin", outcomes=("hangs",))
    assert turning.step.open == ("idler-spin", "seat-feel")
    assert turning.step.lines == ("idler-spin", "arm-spin", "seat-feel")
    assert "check on screen" in turning.refuses(c.Answer, check="arm-spin", outcomes=("hangs",))
    assert "check on screen" in turning.refuses(c.Answer, check="rev-listen", outcomes=("howl",))
    sound(turning)


def test_what_is_touched_is_never_offered_with_a_look_from_outside(small: Knowledge, talk: Any) -> None:
    touched = small.checks["leak-look"].model_copy(update={"untouched": False})
    knowledge = small.model_copy(update={"checks": {**small.checks, touched.id: touched}})
    looking = talk(knowledge, "buzz-round").told().enter()
    assert (looking.step.kind, looking.step.check) == ("check", "belt-look")
    assert "start-tried" in looking.answer("belt-look", "sound").step.lines


def test_a_bad_finding_in_a_stand_does_not_end_the_round(turning: Any) -> None:
    turning.play(c.Answer, check="idler-spin", outcomes=("rough",))
    assert (turning.step.kind, turning.step.open) == ("round", ("arm-spin", "seat-feel"))
    turning.answer("arm-spin", "hangs").answer("seat-feel", "tight")
    assert turning.step.kind == "conclusion"
    assert turning.state.concluded.causes == ("idler-dry",)
    sound(turning)


def test_a_finding_that_closes_running_is_no_reason_to_isolate_in_the_middle_of_a_stand(turning: Any) -> None:
    asked = len(turning.happened(e.ThingConfirmed))
    turning.play(c.Answer, check="seat-feel", outcomes=("loose",))
    turning.play(c.Answer, check="idler-spin", outcomes=("smooth",))
    turning.play(c.Answer, check="arm-spin", outcomes=("comes-back",))
    assert len(turning.happened(e.ThingConfirmed)) == asked
    sound(turning)


def test_what_the_lines_of_a_run_need_is_set_up_before_its_one_start(running: Any) -> None:
    assert [one.check for one in running.happened(e.SetUpFinished)] == ["clip-listen"]
    assert running.step.open == ("belt-tracking", "clip-listen", "idle-listen", "rev-listen")
    starts = [one for one in running.happened(e.StateEntered) if one.engine == "running"]
    running.answer("belt-tracking", "runs-true").answer("rev-listen", "no-howl")
    running.answer("clip-listen", "nothing-loud").answer("idle-listen", "no-tick")
    assert [one for one in running.happened(e.StateEntered) if one.engine == "running"] == starts
    sound(running)


def test_no_load_and_no_speed_before_the_belt_was_seen_to_run_true(running: Any) -> None:
    assert "run true" in running.refuses(c.Answer, check="rev-listen", outcomes=("no-howl",))
    running.play(c.Answer, check="idle-listen", outcomes=("no-tick",))
    running.play(c.Answer, check="belt-tracking", outcomes=("runs-true",))
    assert running.play(c.Answer, check="rev-listen", outcomes=("no-howl",)).last
    sound(running)


def test_a_belt_that_nobody_saw_run_true_holds_load_and_speed_back(running: Any) -> None:
    running.answer("belt-tracking", "cannot-see").answer("clip-listen", "nothing-loud").answer("idle-listen", "no-tick")
    running.off()
    assert (running.step.kind, running.step.check, running.step.open) == ("held", "rev-listen", ("belt-tracking",))
    assert running.cannot("rev-listen").step.kind == "conclusion"
    sound(running)


def test_the_belt_is_watched_anew_in_each_run(running: Any) -> None:
    running.answer("belt-tracking", "runs-true").play(c.EndRun).enter()
    assert running.step.check == "idle-listen" or "rev-listen" in running.step.open
    assert "run true" in running.refuses(c.Answer, check="rev-listen", outcomes=("no-howl",))
    running.answer("idle-listen", "no-tick").answer("clip-listen", "nothing-loud").enter()
    assert (running.step.kind, running.step.check) == ("check", "belt-tracking")
    running.answer("belt-tracking", "runs-true").answer("rev-listen", "no-howl")
    sound(running)


def test_beside_an_engine_a_finding_that_closes_running_leaves_nothing_but_to_switch_off(running: Any) -> None:
    running.play(c.Answer, check="belt-tracking", outcomes=("wanders",))
    assert running.step.kind == "switch-off"
    running.off()
    assert running.step.kind == "conclusion"
    assert "rev-listen" not in running.state.findings
    sound(running)


def test_an_alarm_leaves_nothing_but_to_switch_off_and_asks_every_look_again(running: Any) -> None:
    running.answer("belt-tracking", "runs-true").play(c.RaiseAlarm)
    assert running.step.kind == "switch-off"
    assert running.happened(e.ThingsEnded)[-1].because == "stop"
    running.off().enter()
    assert running.state.look_again
    assert running.step.check in ("belt-look", "leak-look")
    sound(running)


def test_an_alarm_is_of_a_running_engine(looking: Any) -> None:
    assert "not running" in looking.refuses(c.RaiseAlarm)


def test_nothing_else_found_records_what_was_listed_and_no_more(turning: Any) -> None:
    turning.play(c.CloseRound, checks=("idler-spin", "arm-spin"))
    told = {one.check: (one.outcomes, one.closed_with_round) for one in turning.happened(e.CheckAnswered)}
    assert told["idler-spin"] == (("smooth",), True)
    assert told["arm-spin"] == (("comes-back",), True)
    assert (turning.step.kind, turning.step.check) == ("check", "seat-feel")
    sound(turning)


def test_what_was_struck_out_stays_open_and_is_asked_by_itself(turning: Any) -> None:
    turning.play(c.CloseRound, checks=("arm-spin",)).answer("seat-feel", "tight").enter()
    assert (turning.step.kind, turning.step.check) == ("check", "idler-spin")
    sound(turning)


@pytest.mark.parametrize("check", ["seat-feel", "belt-look"])
def test_a_look_that_lets_an_engine_run_is_never_closed_with_others(turning: Any, check: str) -> None:
    assert turning.refuses(c.CloseRound, checks=("idler-spin", check))


def test_a_reading_a_test_and_a_gate_are_not_closed_together(shipped: Knowledge) -> None:
    from triage.knowledge.rounds import closes_together

    together = {one.id for one in shipped.checks.values() if closes_together(shipped, one)}
    lines = {check for one in shipped.rounds.values() for check in one.checks}
    assert together & lines == {
        "spin-alternator",
        "spin-compressor",
        "spin-decoupler-ring",
        "spin-idler",
        "spin-steering-pump",
        "spin-tensioner-pulley",
        "spin-water-pump",
        "tensioner-position",
        "tensioner-strut",
        "pulley-type",
        "steering-fluid",
        "clutch-by-hand",
        "groove-condition",
        "tensioner-travel",
    }


def test_a_round_that_is_left_asks_each_line_only_where_the_tree_needs_it(turning: Any) -> None:
    turning.play(c.LeaveRound)
    assert (turning.step.kind, turning.step.check) == ("check", "idler-spin")
    turning.answer("idler-spin", "rough")
    assert turning.step.kind == "conclusion"
    sound(turning)


def test_a_check_may_be_asked_for_and_the_tree_goes_on_from_what_is_known(looking: Any) -> None:
    looking.play(c.AskFor, check="overrun-torque").enter()
    assert looking.asks == "check overrun-torque"
    looking.play(c.AskFor, check="").enter()
    assert looking.step.kind == "round"
    looking.play(c.AskFor, check="idler-spin")
    assert looking.step.check == "idler-spin"
    sound(looking)


def test_what_was_asked_for_is_let_go_where_the_pulley_turns_out_to_be_another(small: Knowledge, talk: Any) -> None:
    only = small.checks["overrun-torque"].model_copy(update={"only_for": ("one-way-clutch",)})
    of_clutches = small.model_copy(update={"checks": {**small.checks, only.id: only}})
    looking = talk(of_clutches, "buzz-round").told().enter()
    looking.play(c.AskFor, check="overrun-torque")
    assert looking.step.check == "overrun-torque"
    looking.play(c.CorrectFact, fact="pulley", value="solid").enter()
    assert looking.step.check != "overrun-torque"
    sound(looking)


def test_no_running_check_may_be_asked_for_before_the_looks_that_let_an_engine_run(looking: Any) -> None:
    assert "not be made now" in looking.refuses(c.AskFor, check="idle-listen")


def test_somebody_alone_is_offered_only_the_lines_that_are_made_from_the_seat(running: Any) -> None:
    running.play(c.SayAlone, alone=True).off().enter()
    assert running.step.check == "belt-tracking"
    assert running.step.kind == "check"


@pytest.mark.parametrize(
    ("heard", "lines", "first"),
    [
        ("with-steering", ("mounting", "fan-drive", "steering-fluid"), "steering-fluid"),
        ("deceleration", ("spin-idler", "spin-alternator", "clutch-by-hand"), "clutch-by-hand"),
        ("not-sure", ("mounting", "fan-drive", "steering-fluid"), "mounting"),
        ("with-steering", ("belt-tracking", "bearing-listen"), "belt-tracking"),
    ],
)
def test_when_it_is_heard_chooses_what_is_looked_at_first_at_the_standing_drive(
    shipped: Knowledge, talk: Any, heard: str, lines: tuple[str, ...], first: str
) -> None:
    state = talk(shipped, "belt-squeal").told("decoupler").state
    found = Finding("when-heard", (heard,), at_ms=0, who="Kim")
    ordered = in_order(shipped, replace(state, findings={"when-heard": found}), lines)
    assert ordered[0] == first
    assert set(ordered) == set(lines)


def test_nothing_but_the_order_of_a_round_hangs_on_it_and_its_line_says_why(shipped: Knowledge, talk: Any) -> None:
    orders, choices = {}, [""]
    for heard in ("not-sure", "with-steering"):
        session = talk(shipped, "belt-squeal").told("decoupler")
        while session.enter().step.round != "look-by-hand":
            check = shipped.checks[session.step.check]
            found = {"when-heard": heard, "complaint-heard": "heard-now"}.get(check.id, check.normal("decoupler"))
            session.play(c.Answer, check=check.id, outcomes=(found,))
        orders[heard] = session.step.lines
        choices = [choice.words for choice in round_view(shipped, session.state, session.step).choices]
    assert sorted(orders["not-sure"]) == sorted(orders["with-steering"])
    assert orders["with-steering"][0] == "steering-fluid" != orders["not-sure"][0]
    assert choices[0].endswith("(first: while the steering is turned)")
    assert not any("first:" in words for words in choices[1:])
