"""The facts of the vehicle: told when they are asked for, put right at any moment after."""

from collections.abc import Callable
from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c

NONSENSE = [
    ("pulley", "round"),
    ("pulley", 2.0),
    ("cylinders", 0.0),
    ("cylinders", 2.5),
    ("cylinders", 17.0),
    ("cylinders", "four"),
    ("odometer", -1.0),
    ("odometer", 6e9),
]


@pytest.fixture
def asked(talk: Callable[..., Any], small: Knowledge) -> Any:
    """At the first fact."""
    return talk(small, "buzz").play(c.AnswerGate, answer="none")


def test_the_facts_are_asked_in_order_and_may_be_unknown(asked: Any) -> None:
    assert asked.asks == "fact pulley"
    assert "not what is asked" in asked.refuses(c.TellFact, fact="cylinders", value=4.0)
    asked.play(c.TellFact, fact="pulley", value=None)
    assert (asked.asks, asked.state.pulley) == ("fact odometer", "unknown")
    asked.play(c.TellFact, fact="odometer", value=None).play(c.TellFact, fact="cylinders", value=None)
    assert asked.asks == "check heard"


@pytest.mark.parametrize(("fact", "value"), NONSENSE)
def test_a_fact_that_cannot_be_is_refused_told_or_put_right(
    talk: Callable[..., Any], small: Knowledge, asked: Any, fact: str, value: Any
) -> None:
    while asked.step.fact != fact:
        asked.play(c.TellFact, fact=asked.step.fact, value=None)
    assert asked.refuses(c.TellFact, fact=fact, value=value) == "That value cannot be."
    assert talk(small, "buzz").told().refuses(c.CorrectFact, fact=fact, value=value) == "That value cannot be."


def test_what_is_not_told_yet_or_not_kept_cannot_be_put_right(asked: Any) -> None:
    assert "not a fact" in asked.refuses(c.TellFact, fact="colour", value="red")
    for fact in ("pulley", "colour"):
        assert "not told yet" in asked.refuses(c.CorrectFact, fact=fact, value="solid")
    asked.play(c.TellFact, fact="pulley", value="solid").play(c.CorrectFact, fact="pulley", value="isolator")
    assert (asked.state.pulley, asked.asks) == ("isolator", "fact odometer")
    assert "told before" in asked.refuses(c.CorrectFact, fact="pulley", value="isolator")


def test_a_fact_put_right_ends_the_conclusion_and_no_confirmation(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    assert buzz.state.concluded.causes == ("belt-torn",)
    buzz.play(c.CorrectFact, fact="odometer", value=1.2e7)
    kinds = ["fact-corrected", "conclusion-reached"]
    assert [event.kind for event in buzz.last if event.kind != "step-offered"] == kinds
    (told,) = buzz.happened(e.FactCorrected)
    assert (told.before, told.value, told.repairing) == (1.2e8, 1.2e7, False)
    assert buzz.replayed() == buzz.state


def test_a_fact_put_right_in_a_timed_run_asks_for_the_engine_first(apart: Any) -> None:
    apart.answer("belt-look", "sound").answer("idler-spin", "smooth").enter().play(c.StartRun)
    apart.play(c.CorrectFact, fact="pulley", value="solid")
    assert [event.kind for event in apart.last[:3]] == ["run-ended", "fact-corrected", "step-offered"]
    assert apart.last[0].because == "interrupted"
    assert (apart.step.kind, apart.step.state) == ("run-over", "running-belt-off")
    assert apart.play(c.EndRun).step.kind == "result"


def test_a_fact_may_be_put_right_while_the_session_is_paused(listening: Any) -> None:
    listening.play(c.Pause).play(c.CorrectFact, fact="pulley", value="solid")
    assert (listening.asks, listening.state.pulley) == ("paused", "solid")
    assert listening.play(c.Resume).off().step.kind == "confirm"


def at_overrun_torque(buzz: Any, pulley: str) -> Any:
    """At a check that only a pulley with a clutch can have."""
    buzz.told(pulley)
    while buzz.enter().step.check != "overrun-torque":
        check = buzz.knowledge.checks[buzz.step.check]
        told = {"shutdown-listen": "buzzing", "clutch-by-hand": "cannot-tell"}
        found = told.get(check.id, check.normal(pulley))
        buzz.play(c.Answer, check=check.id, outcomes=(found,))
    return buzz


def test_the_path_is_walked_anew_for_the_pulley_that_is_specified(talk: Callable[..., Any], shipped: Knowledge) -> None:
    buzz = at_overrun_torque(talk(shipped, "shutdown-buzz"), "decoupler")
    found = {check: finding.outcomes for check, finding in buzz.state.findings.items()}
    buzz.play(c.CorrectFact, fact="pulley", value="solid")
    right = talk(shipped, "shutdown-buzz").told("solid")
    while right.enter().step.check in found:
        right.play(c.Answer, check=right.step.check, outcomes=found[right.step.check])
    assert buzz.enter().asks == right.asks
    assert buzz.state.concluded == right.state.concluded
    back = at_overrun_torque(talk(shipped, "shutdown-buzz"), "decoupler")
    back.play(c.CorrectFact, fact="pulley", value="solid").play(c.CorrectFact, fact="pulley", value="decoupler")
    assert back.enter().step.check == next(check for check in found if shipped.checks[check].only_for)


def test_what_the_vehicle_cannot_have_is_taken_back(talk: Callable[..., Any], shipped: Knowledge) -> None:
    buzz = at_overrun_torque(talk(shipped, "shutdown-buzz"), "decoupler")
    buzz.play(c.Answer, check="overrun-torque", outcomes=("stiff",))
    buzz.play(c.CorrectFact, fact="pulley", value="solid")
    taken_back = [event.check for event in buzz.last if isinstance(event, e.FindingTakenBack)]
    assert "overrun-torque" in taken_back
    assert not set(taken_back) & set(buzz.state.findings)
    assert not any(shipped.checks[check].only_for for check in buzz.state.findings)
    assert buzz.replayed() == buzz.state


def test_a_route_of_its_own_ends_with_the_vehicle_it_was_planned_for(measuring: Any) -> None:
    measuring.play(c.TakeOwnRoute, check="idler-spin", minutes=3.0, saves_min=2.0)
    assert (measuring.step.check, len(measuring.state.own)) == ("idler-spin", 1)
    measuring.play(c.CorrectFact, fact="pulley", value="solid")
    assert (measuring.step.check, measuring.state.own) == ("overrun-torque", ())


def test_a_repair_that_was_begun_stands_with_its_confirmations(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "buzz")
    buzz.read("overrun-torque", "2.5 N·m").play(c.BeginRemedy).enter()
    assert buzz.step.kind == "part"
    remedies, concluded, findings = buzz.state.remedies, buzz.state.concluded, buzz.state.findings
    buzz.play(c.CorrectFact, fact="pulley", value="solid")
    assert buzz.happened(e.FactCorrected)[0].repairing
    assert (buzz.state.remedies, buzz.state.concluded, buzz.state.findings) == (remedies, concluded, findings)
    assert (buzz.state.stage, buzz.step.kind) == ("working", "part")
    assert buzz.replayed() == buzz.state


def test_a_cure_that_did_not_hold_leaves_no_finding_that_the_vehicle_cannot_have(
    talk: Callable[..., Any], shipped: Knowledge
) -> None:
    buzz = at_overrun_torque(talk(shipped, "shutdown-buzz"), "decoupler")
    buzz.play(c.Answer, check="overrun-torque", outcomes=("stiff",))
    while buzz.step.kind != "conclusion":
        check = shipped.checks[buzz.enter().step.check]
        buzz.play(c.Answer, check=check.id, outcomes=(check.normal("decoupler"),))
    senseless = {check for check in buzz.state.findings if "solid" not in (shipped.checks[check].only_for or ["solid"])}
    assert "overrun-torque" in senseless
    buzz.play(c.BeginRemedy).play(c.CorrectFact, fact="pulley", value="solid")
    while buzz.step.kind != "prove":
        buzz.enter()
        if buzz.step.kind == "part":
            buzz.play(c.RecordPart, part=buzz.step.part, done="left")
        elif buzz.step.kind == "torque":
            buzz.play(c.RecordTorque, torque=buzz.step.torque, value_nm=None, text="left", wrench="", reference="")
        elif buzz.step.check:
            assert buzz.step.check not in senseless
            buzz.play(c.Answer, check=buzz.step.check, outcomes=(shipped.checks[buzz.step.check].normal("solid"),))
    buzz.play(c.NotCured)
    assert not senseless & set(buzz.state.findings)


def test_an_odometer_is_not_put_behind_a_renewal_that_was_told(buzz: Any) -> None:
    buzz.play(c.TellRenewal, part="pulley", odometer_m=1.0e8)
    assert "behind a renewal" in buzz.refuses(c.CorrectFact, fact="odometer", value=1.2e7)
    buzz.play(c.TellRenewal, part="pulley", odometer_m=1.0e7).play(c.CorrectFact, fact="odometer", value=1.2e7)
    assert (buzz.state.facts["odometer"], buzz.state.renewed_at_m) == (1.2e7, {"pulley": 1.0e7})
    assert "not been there" in buzz.refuses(c.TellRenewal, part="pulley", odometer_m=1.0e8)


def test_a_renewal_that_was_told_by_mistake_is_taken_back(buzz: Any) -> None:
    assert "No renewal" in buzz.refuses(c.TellRenewal, part="pulley", odometer_m=None)
    buzz.play(c.TellRenewal, part="pulley", odometer_m=1.0e8).play(c.TellRenewal, part="pulley", odometer_m=None)
    assert buzz.state.renewed_at_m == {}
    assert buzz.replayed() == buzz.state
