"""The one next step: the tree's, with everything that is laid around it."""

from typing import Any

from triage.knowledge.models import Knowledge, Node
from triage.record import events as e
from triage.session import commands as c
from triage.session.stepping import abnormal, place_of, to_prove


def test_what_is_asked_anywhere_needs_no_interlock(buzz: Any) -> None:
    assert (buzz.asks, buzz.step.state) == ("check heard", "anywhere")


def test_the_step_is_offered_once_as_long_as_it_stays_the_same(buzz: Any) -> None:
    offered = len(buzz.happened(e.StepOffered))
    buzz.tick().tick(5)
    assert len(buzz.happened(e.StepOffered)) == offered


def test_the_place_in_the_tree_follows_from_the_findings(buzz: Any, small: Knowledge) -> None:
    assert place_of(small, buzz.state).node_id == "ask"
    buzz.answer("heard", "yes-heard").answer("belt-look", "torn")
    assert place_of(small, buzz.state).node_id == "c-belt"


def test_only_what_speaks_of_a_fault_is_abnormal(buzz: Any, small: Knowledge) -> None:
    buzz.answer("heard", "not-now").answer("belt-look", "cannot-tell").cannot("overrun-torque").cannot("cap-look")
    assert not any(abnormal(small, buzz.state, finding) for finding in buzz.state.findings.values())
    buzz.answer("idler-spin", "rough")
    assert abnormal(small, buzz.state, buzz.state.findings["idler-spin"])
    assert to_prove(small, buzz.state) == ("idler-spin", "listen")


def test_what_is_about_a_part_that_was_taken_away_is_not_made_again(shipped: Knowledge, talk: Any) -> None:
    session = talk(shipped, "belt-thrown").told()
    found = {"belt-now": "off-vehicle", "old-belt-condition": "damaged"}
    while session.step.kind != "conclusion":
        check = shipped.checks[session.enter().step.check]
        session.answer(check.id, found.get(check.id, check.normal(session.state.pulley)))
    assert session.state.concluded.causes == ("belt-damaged",)
    again = to_prove(shipped, session.play(c.BeginRemedy).state)
    assert "old-belt-condition" not in again
    assert "belt-condition" in again


def test_the_shipped_tree_leads_a_sound_vehicle_to_its_first_running_check(shipped: Knowledge, talk: Any) -> None:
    session = talk(shipped, "shutdown-buzz").told()
    while session.state.condition.engine != "running":
        check = shipped.checks[session.enter().step.check]
        if session.state.condition.engine != "running":
            session.answer(check.id, check.normal(session.state.pulley))
    starts = [one.confirmation for one in session.happened(e.ThingConfirmed)][-3:]
    assert starts == ["bay-clear", "everyone-out", "at-the-key"], "the rest stands since it was said"
    assert session.step.kind == "round"


def test_an_engine_that_runs_is_switched_off_before_it_is_waited_for_to_grow_cold(
    shipped: Knowledge, talk: Any
) -> None:
    tree = shipped.trees["shutdown-buzz"]
    short = tree.model_copy(
        update={
            "start": "listen",
            "nodes": {
                "listen": Node(check="shutdown-listen", next=dict.fromkeys(LISTENED, "apart"), cannot="apart"),
                "apart": Node(
                    check="belt-off-run", next=dict.fromkeys(("noise-gone", "noise-stays"), "end"), cannot="end"
                ),
                "end": Node(end="undecided"),
            },
        }
    )
    session = talk(shipped.model_copy(update={"trees": {"shutdown-buzz": short}}), "shutdown-buzz").told()
    session.answer("belt-tracking", "runs-true").answer("shutdown-listen", "buzzing")
    assert session.step.kind == "switch-off"
    assert (session.off().step.kind, session.step.check) == ("held", "belt-off-run")
    session.tick(121)
    assert (session.step.kind, session.step.state) == ("confirm", "isolated-belt-off"), "nobody has looked yet"
    session.enter()
    assert (session.step.kind, session.step.state) == ("run-ready", "running-belt-off")


LISTENED = ("quiet", "soft-whirr", "short", "buzzing")
