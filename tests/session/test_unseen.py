"""After a repair the engine stays off while a look at the stopped drive could not be made."""

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
