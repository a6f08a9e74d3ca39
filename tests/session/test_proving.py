"""What is proved of a complaint after a repair, and tests of a complaint that is not there, on the shipped trees."""

from typing import Any

import pytest

from triage.app.respondent import Asked, Respondent
from triage.knowledge.models import PULLEY_TYPES, Check, Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.choosing import choice_of


class Somebody(Respondent):
    """Finds what is said here, before and after the repair, and otherwise what is normal."""

    who = "Kim"
    names = "Robin"

    def __init__(self, before: dict[str, str], after: dict[str, str], pulley: str = "one-way-clutch") -> None:
        self.before, self.after, self.pulley = before, after, pulley

    def told(self, asked: Asked) -> str | float | None:
        return self.pulley if asked.step.fact == "pulley" else None

    def found(self, asked: Asked, check: Check) -> c.Command:
        found = (self.after if asked.step.proving else self.before).get(check.id)
        return c.Answer(**asked.given, check=check.id, outcomes=(found,)) if found else super().found(asked, check)


def walked(talk: Any, somebody: Somebody, *kinds: str, check: str = "") -> Any:
    """On until a step of these kinds."""
    for _ in range(600):
        if talk.step.kind in kinds and check in ("", talk.step.check):
            return talk
        command = somebody.answer(talk.knowledge, talk.state, talk.now_ms + 1000)
        assert command is not None, talk.step
        waited = talk.step
        if talk.tick((command.at_ms - talk.now_ms - 1000) / 60_000).step == waited:
            talk.give(command.model_copy(update={"at_ms": talk.now_ms, "clock_ms": talk.now_ms}))
    raise AssertionError(talk.step)


BUZZ = {"shutdown-listen": "buzzing", "coast-down": "stops-at-once", "overrun-torque": "stiff"}
CHIRP = {"spin-idler": "rough"}


@pytest.mark.parametrize("pulley", ["one-way-clutch", "decoupler"])
def test_the_soft_whirr_of_a_sound_clutch_proves_that_the_buzz_is_gone(
    talk: Any, shipped: Knowledge, pulley: str
) -> None:
    after = {"shutdown-listen": "soft-whirr"}
    buzz = walked(talk(shipped, "shutdown-buzz"), Somebody(BUZZ, after, pulley), "prove")
    assert buzz.step.proof == "proved-gone"
    assert buzz.play(c.Close, how="signed-off").happened(e.SessionClosed)[0].proof == "proved-gone"


def test_what_a_rotor_proves_that_runs_on_depends_on_the_pulley(shipped: Knowledge) -> None:
    coast = shipped.checks["coast-down"]
    said = {pulley: coast.proof("coasts", pulley) for pulley in PULLEY_TYPES}
    assert said == {"solid": "disproves", "isolator": "disproves", "one-way-clutch": "proves", "decoupler": "proves"}
    assert coast.proof("coasts", "unknown") == "nothing"


def test_a_complaint_that_was_never_met_is_not_proved_gone_by_being_absent(talk: Any, shipped: Knowledge) -> None:
    never = Somebody({**CHIRP, "complaint-heard": "not-now"}, {"complaint-now": "absent"})
    chirp = walked(talk(shipped, "belt-chirp"), never, "prove")
    assert (chirp.step.proof, chirp.state.pending) == ("not-provable", ())
    assert "not proved" in chirp.refuses(c.Close, how="signed-off")


def test_a_condition_that_cannot_be_made_leaves_the_proof_open_until_it_can(talk: Any, shipped: Knowledge) -> None:
    somebody = Somebody({**CHIRP, "met-under": "cold-start"}, {"complaint-now": "other-condition"})
    chirp = walked(talk(shipped, "belt-chirp"), somebody, "prove")
    assert chirp.step.proof == "not-provable"
    chirp.play(c.LeaveProofOpen)
    somebody.after["complaint-now"] = "absent"
    walked(chirp, somebody, "prove")
    looks = [event for event in chirp.happened(e.LooksEnded) if "belt-condition" in event.checks]
    assert looks, "what lets the engine run is looked at again"
    assert chirp.step.proof == "proved-gone"


def test_a_battery_that_failed_before_the_looks_has_them_made_before_the_engine_proves_the_new_one(
    talk: Any, shipped: Knowledge
) -> None:
    flat = walked(talk(shipped, "low-charge"), Somebody({"battery-tester": "failed"}, {}, "solid"), "conclusion")
    assert flat.state.concluded.causes == ("battery-failed",)
    looks = {"belt-condition", "belt-fit", "fluid-leak", "mounting", "pulleys-in-sight"}
    assert not looks <= flat.state.findings.keys()
    proved = walked(flat, Somebody({}, {}, "solid"), "prove", "closed")
    assert proved.state.engine_ran_ms is not None
    assert looks <= proved.state.known.keys()


def test_every_proof_has_the_engine_running_once(talk: Any, shipped: Knowledge) -> None:
    for symptom in shipped.trees:
        job = walked(talk(shipped, symptom), Somebody({"spin-idler": "rough"}, {}), "part", "conclusion")
        if not job.state.concluded.causes:
            continue
        job = walked(job, Somebody({}, {}), "prove")
        finished = job.events.index(job.happened(e.WorkFinished)[-1])
        assert any(isinstance(one, e.StateEntered) and one.engine == "running" for one in job.events[finished:]), (
            symptom
        )


def test_a_bad_proof_stops_before_anything_more_is_set_up_or_started(talk: Any, shipped: Knowledge) -> None:
    flutter = Somebody({"tensioner-travel": "weak"}, {"tensioner-travel": "weak"})
    job = walked(talk(shipped, "tensioner-flutter"), flutter, "prove")
    assert job.step.proof == "not-cured"
    finished = job.events.index(job.happened(e.WorkFinished)[-1])
    assert not [one for one in job.events[finished:] if isinstance(one, e.SetUpFinished | e.RunStarted)]
    assert "Not cured yet" in job.refuses(c.Close, how="signed-off")


def test_it_is_asked_whether_the_complaint_is_there_once_in_each_run_before_its_tests(
    talk: Any, shipped: Knowledge
) -> None:
    job = walked(talk(shipped, "belt-chirp"), Somebody({}, {}), "round", check="complaint-now")
    for test in ("chirp-timing", "water-mist", "load-step"):
        assert test in job.step.open
        assert "whether the complaint is there" in job.refuses(c.Answer, check=test, outcomes=("no-change",))
    job.play(c.Answer, check="complaint-now", outcomes=("there",))
    job.play(c.Answer, check="water-mist", outcomes=("no-change",))
    again = walked(job.play(c.EndRun), Somebody({}, {}), "round", "check", check="complaint-now")
    assert "load-step" in again.step.open
    assert "whether the complaint is there" in again.refuses(c.Answer, check="load-step", outcomes=("no-change",))


def test_a_test_of_a_complaint_that_is_not_there_is_not_made_and_says_nothing(talk: Any, shipped: Knowledge) -> None:
    absent = Somebody({"complaint-now": "absent"}, {})
    job = walked(talk(shipped, "belt-chirp"), absent, "conclusion")
    tests = {check.id for check in shipped.checks.values() if check.needs_complaint}
    assert not tests & set(job.state.findings)
    assert not tests & set(job.state.concluded.path)
    assert not tests & {*choice_of(shipped, job.state).now, *choice_of(shipped, job.state).later}


def test_a_test_is_taken_back_with_the_word_that_the_complaint_was_there(talk: Any, shipped: Knowledge) -> None:
    job = walked(talk(shipped, "belt-chirp"), Somebody({}, {}), "round", check="chirp-timing")
    job.play(c.Answer, check="water-mist", outcomes=("louder",))
    job.play(c.Correct, check="complaint-now", outcomes=("absent",))
    assert "water-mist" not in job.state.findings
    job.play(c.Undo)
    assert job.state.findings["water-mist"].outcomes == ("louder",)
    assert job.state.findings["complaint-now"].outcomes == ("there",)


@pytest.mark.parametrize(
    ("symptom", "before", "pulley"),
    [
        ("shutdown-buzz", {"shutdown-listen": "soft-whirr", "whirr-only": "that-is-it"}, "one-way-clutch"),
        ("shutdown-buzz", {"complaint-heard": "normal-behaviour"}, "decoupler"),
        ("belt-squeal", {"complaint-heard": "not-now", "provoked": "does-not-come"}, "solid"),
        ("bearing-rumble", {"complaint-heard": "not-now", "provoked": "does-not-come"}, "isolator"),
    ],
)
def test_nothing_wrong_is_an_end_of_its_own_after_the_looks_and_at_most_one_run(
    talk: Any, shipped: Knowledge, symptom: str, before: dict[str, str], pulley: str
) -> None:
    job = walked(talk(shipped, symptom), Somebody(before, {}, pulley), "conclusion")
    assert (job.state.concluded.end, job.state.concluded.causes) == ("nothing-wrong", ())
    assert shipped.trees[symptom].nodes[job.state.concluded.node].tell
    assert len(job.state.findings) <= 20, "what was asked, two rounds of looks, and at most one of a run"
    assert "removed" not in {one.belt for one in job.happened(e.StateEntered)}, "nothing is taken apart for it"
    entered = [one.engine for one in job.happened(e.StateEntered)]
    assert entered.count("running") <= 1


def test_a_whirr_behind_a_solid_pulley_is_no_healthy_clutch(talk: Any, shipped: Knowledge) -> None:
    job = walked(talk(shipped, "shutdown-buzz"), Somebody({"shutdown-listen": "soft-whirr"}, {}, "solid"), "conclusion")
    assert "whirr-only" not in job.state.findings


def test_it_is_asked_which_of_several_before_hands_go_in_and_the_record_says_so(talk: Any, shipped: Knowledge) -> None:
    job = walked(talk(shipped, "belt-chirp"), Somebody({"spin-idler": "rough"}, {}), "conclusion")
    job.play(c.BeginRemedy)
    assert (job.step.kind, job.step.remedy) == ("which", "renew-idler")
    assert "not what is asked" in job.refuses(c.NamePlace, remedy="renew-belt", place="The first")
    assert "empty" in job.refuses(c.NamePlace, remedy="renew-idler", place=" ")
    job.play(c.NamePlace, remedy="renew-idler", place="The second")
    assert job.state.places == {"renew-idler": "The second"}
    assert job.step.kind in ("confirm", "part")
    job.play(c.Undo)
    assert (job.state.places, job.step.kind) == ({}, "which")


def test_a_second_fault_goes_on_in_the_same_job(talk: Any, shipped: Knowledge) -> None:
    job = walked(talk(shipped, "belt-chirp"), Somebody(CHIRP, {}), "prove")
    job.play(c.NotCured, another=True)
    assert job.happened(e.NotCured)[0].another
    assert (job.state.stage, job.state.rounds) == ("finding", 2)
    assert "complaint-heard" in job.state.findings, "what was met stays met"
    assert "complaint-now" not in job.state.findings, "the first one is gone, of the second nobody has said so"
    second = walked(job, Somebody({"span-tension": "low"}, {}), "conclusion", "part", "which")
    assert second.state.concluded.causes == ("tensioner-weak",)
