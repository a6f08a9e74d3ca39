"""Facts of the vehicle that are asked where they first matter, and what is not asked because of them."""

from typing import Any

import pytest

from triage.knowledge.models import Knowledge
from triage.session import commands as c
from triage.session.audit import objections
from triage.session.choosing import may_be_asked
from triage.session.interlocks import is_pressed
from triage.session.taking_off import NEW_BELT

NORMAL = {"complaint-heard": "heard-now", "complaint-now": "there"}


def begun(shipped: Knowledge, talk: Any, symptom: str, **facts: str | float) -> Any:
    """A session at the gate's other side, its first facts told, and those later ones that are given."""
    session = talk(shipped, symptom)
    session.tells = False
    session.play(c.AnswerGate, answer="none").play(c.TellFact, fact="pulley", value="decoupler")
    session.play(c.TellFact, fact="odometer", value=1.2e8).play(c.TellFact, fact="cylinders", value=4.0)
    for fact, value in facts.items():
        session.play(c.TellFact, fact=fact, value=value)
    return session


def gone_through(session: Any, steps: int = 400) -> list[str]:
    """Answer normally to the end; the checks, facts and cards in the order in which they were asked."""
    asked: list[str] = []
    for _ in range(steps):
        session.enter()
        step = session.step
        if step.kind in ("conclusion", "held"):
            return asked
        if step.kind == "fact":
            asked.append(step.fact)
            session.play(c.TellFact, fact=step.fact, value=None)
            continue
        check = session.knowledge.checks[step.check]
        asked.append(check.id)
        outcome = NORMAL.get(check.id, check.normal(session.state.pulley))
        session.play(c.Answer, check=check.id, outcomes=(outcome,))
    raise AssertionError("it does not end")


def test_a_fact_is_asked_once_and_not_before_it_matters(shipped: Knowledge, talk: Any) -> None:
    asked = gone_through(begun(shipped, talk, "bearing-rumble"))
    for fact in ("tightening", "drives", "belts"):
        assert asked.count(fact) == 1, fact
    first = next(one for one in asked if one in shipped.checks and shipped.checks[one].state == "belt-off")
    assert asked.index("tightening") < asked.index(first)
    assert asked.index("complaint-heard") < asked.index("drives")
    assert "managed_charging" not in asked


def test_what_the_vehicle_has_not_got_is_never_asked_about(shipped: Knowledge, talk: Any) -> None:
    session = begun(shipped, talk, "bearing-rumble", drives="alternator water-pump")
    asked = gone_through(session)
    assert not {"spin-steering-pump", "spin-compressor", "steering-fluid"} & set(asked)
    assert "spin-water-pump" in asked
    assert "spin-steering-pump" in gone_through(begun(shipped, talk, "bearing-rumble"))
    assert [one.line for one in objections(session.events)] == [1], "its clock begins in 1970"


def test_what_is_found_at_a_part_is_taken_back_where_the_vehicle_has_none(shipped: Knowledge, talk: Any) -> None:
    session = begun(shipped, talk, "bearing-rumble", drives="steering-pump")
    while "steering-fluid" not in (session.step.check, *session.step.open):
        check = shipped.checks[session.enter().step.check]
        session.play(c.Answer, check=check.id, outcomes=(NORMAL.get(check.id, check.outcomes[0].id),))
    session.play(c.Answer, check="steering-fluid", outcomes=("low-or-foaming",))
    session.play(c.CorrectFact, fact="drives", value="alternator compressor")
    assert "steering-fluid" not in session.state.known
    assert "steering-fluid" not in (session.step.check, *session.step.open)


def test_a_stretch_belt_stays_on_for_every_look_and_comes_off_with_a_new_one_in_hand(
    shipped: Knowledge, talk: Any
) -> None:
    session = begun(shipped, talk, "bearing-rumble", tightening="stretch", drives="alternator", belts=1.0)
    asked = []
    while shipped.checks.get(session.step.check) is None or shipped.checks[session.step.check].state != "belt-off":
        step = session.step
        if step.kind == "confirm":
            session.confirm(next(one for one in step.lines if not is_pressed(session.knowledge, session.state, one)))
        elif step.kind == "switch-off":
            session.play(c.EndRun)
        elif step.kind == "set-up":
            session.play(c.FinishSetUp, check=step.check)
        else:
            check = shipped.checks[step.check]
            asked.append(check.id)
            session.play(c.Answer, check=check.id, outcomes=(NORMAL.get(check.id, check.normal("decoupler")),))
    assert any(shipped.checks[one].state == "running" for one in asked), "the run comes before the belt comes off"
    assert session.step.lines == (NEW_BELT,)
    answer = {"check": session.step.check, "outcomes": (shipped.checks[session.step.check].outcomes[0].id,)}
    assert session.refuses(c.Answer, **answer)
    session.enter()
    assert session.state.condition.belt == "removed"
    assert [one.line for one in objections(session.events)] == [1], "its clock begins in 1970"


def test_a_trace_in_which_a_stretch_belt_came_off_with_nothing_in_hand_is_refused(
    shipped: Knowledge, talk: Any
) -> None:
    session = begun(shipped, talk, "bearing-rumble", tightening="stretch", drives="alternator", belts=1.0)
    while session.state.condition.belt == "fitted":
        if session.step.kind in ("confirm", "set-up", "switch-off"):
            session.enter()
            continue
        check = shipped.checks[session.step.check]
        session.play(c.Answer, check=check.id, outcomes=(NORMAL.get(check.id, check.normal("decoupler")),))
    in_hand = [one for one in session.events if getattr(one, "confirmation", "") == NEW_BELT]
    assert len(in_hand) == 1
    kept = [one for one in session.events if one not in in_hand]
    assert len(kept) < len(session.events)
    told = [one.reason for one in objections(kept)]
    assert any("new one is in hand" in one for one in told), told


@pytest.mark.parametrize(
    ("fact", "value"), [("drives", "alternator gearbox"), ("drives", ""), ("tightening", "arm strut"), ("belts", 0.5)]
)
def test_what_no_vehicle_has_is_refused(shipped: Knowledge, talk: Any, fact: str, value: str | float) -> None:
    assert "cannot be" in begun(shipped, talk, "belt-chirp").refuses(c.TellFact, fact=fact, value=value)


def test_managed_charging_and_other_voltages_leave_out_what_says_nothing_there(shipped: Knowledge, talk: Any) -> None:
    managed = gone_through(begun(shipped, talk, "low-charge", managed_charging="yes"))
    assert "charging-voltage" not in managed
    heavy = gone_through(begun(shipped, talk, "low-charge", system_voltage="other"))
    assert not {"battery-state", "charging-voltage", "charge-under-load"} & set(heavy)


def test_a_check_off_the_tree_is_left_where_the_vehicle_has_not_got_its_part(shipped: Knowledge, talk: Any) -> None:
    session = begun(shipped, talk, "bearing-rumble")
    while "spin-compressor" not in may_be_asked(shipped, session.state):
        check = shipped.checks[session.enter().step.check]
        session.play(c.Answer, check=check.id, outcomes=(NORMAL.get(check.id, check.outcomes[0].id),))
    session.play(c.TakeOwnRoute, check="spin-compressor", minutes=3.0, saves_min=1.0)
    while session.step.kind == "fact":
        told = "alternator water-pump" if session.step.fact == "drives" else None
        session.play(c.TellFact, fact=session.step.fact, value=told)
    assert session.state.facts["drives"] == "alternator water-pump"
    assert session.step.check != "spin-compressor"
