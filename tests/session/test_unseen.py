"""The engine stays off while a look at the stopped drive could not be made, before a repair and after it."""

from typing import Any

from triage.knowledge.models import Knowledge
from triage.session import commands as c

UNTIGHTENED = {"value_nm": None, "text": "not loosened", "wrench": "", "reference": ""}


def proving_blind(shipped: Knowledge, talk: Any) -> Any:
    session = talk(shipped, "shutdown-buzz").told()
    while session.step.kind != "conclusion":
        check = shipped.checks[session.step.check]
        if check.id == "belt-condition":
            session.cannot(check.id)
        else:
            found = "rough" if check.id == "spin-decoupler-ring" else check.normal(session.state.pulley)
            session.answer(check.id, found)
    return session


def test_the_proof_runs_no_engine_that_nobody_could_look_at(shipped: Knowledge, talk: Any) -> None:
    session = proving_blind(shipped, talk).play(c.BeginRemedy)
    while session.state.stage == "working":
        session.enter()
        if session.step.kind == "part":
            session.play(c.RecordPart, part=session.step.part, done="left")
        elif session.step.kind == "torque":
            session.play(c.RecordTorque, torque=session.step.torque, **UNTIGHTENED)
    while session.step.kind in ("check", "confirm"):
        session.enter()
        check = shipped.checks[session.step.check]
        assert shipped.states[check.state].engine == "stopped"
        session.answer(check.id, check.normal(session.state.pulley))
    assert (session.step.kind, session.step.check) == ("blocked", "belt-condition")


def test_a_look_that_could_not_be_made_keeps_the_engine_off_before_any_repair(
    small: Knowledge, walking: Any, talk: Any
) -> None:
    session = talk(walking.careless(small), "buzz").told().answer("heard", "yes-heard").cannot("belt-look")
    session.answer("leak-look", "dry")
    assert (session.asks, session.state.stage) == ("blocked belt-look", "finding")
    assert "stays off" in session.refuses(c.CannotDo, check="listen", reason="no")
    session.play(c.PutRight, check="belt-look", done="a lamp was fetched").answer("belt-look", "sound")
    session.answer("leak-look", "dry")
    assert session.enter().asks == "check listen"


def test_a_look_that_told_nothing_keeps_the_engine_off_too(small: Knowledge, walking: Any, talk: Any) -> None:
    session = talk(walking.careless(small), "buzz").told().answer("heard", "yes-heard")
    session.answer("belt-look", "cannot-tell").answer("leak-look", "dry")
    assert session.asks == "blocked belt-look"
