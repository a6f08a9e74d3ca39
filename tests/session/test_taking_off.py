"""What stands before a belt comes off, and what is not there at all: by the facts that were told of the vehicle."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from triage.knowledge.models import Knowledge, Node
from triage.record import events as e
from triage.session import commands as c
from triage.session.audit.walk import objections
from triage.session.evolving import evolve
from triage.session.interlocks import is_cold
from triage.session.taking_off import BY_PICTURE, NEW_BELT, belt_line

TIGHTENED = [
    ("arm", []),
    ("screw", []),
    ("stretch", ["new-belt-in-hand"]),
    (None, ["new-belt-in-hand"]),
]


def refused(events: Sequence[e.Event]) -> list[str]:
    """Why an audit refuses them; that these tests begin in 1970 is no matter here."""
    return [one.reason for one in objections(events) if "is dated" not in one.reason]


@pytest.fixture
def careful(small: Knowledge) -> Knowledge:
    """The small world, in which what keeps the belt tight and what it drives are asked for where they matter."""
    states = {
        name: state.model_copy(
            update={"asks": ("tightening", "drives") if state.engine == "running" else ("tightening",)}
        )
        if state.belt == "removed"
        else state
        for name, state in small.states.items()
    }
    spins = small.checks["idler-spin"].model_copy(update={"needs": {"drives": ("fan",)}})
    return small.model_copy(update={"states": states, "checks": {**small.checks, "idler-spin": spins}})


@pytest.fixture
def before_off(talk: Callable[..., Any], careful: Knowledge) -> Any:
    """The belt was looked at; what comes next is made with the belt off."""
    session = talk(careful, "buzz-apart").told()
    session.tells = False
    return session.answer("belt-look", "sound")


def test_the_fact_is_asked_where_the_belt_first_comes_off_and_once(before_off: Any) -> None:
    assert before_off.asks == "fact tightening"
    before_off.play(c.TellFact, fact="tightening", value="arm").play(c.TellFact, fact="drives", value=None)
    before_off.answer("idler-spin", "smooth")
    told = [event.fact for event in before_off.happened(e.FactTold)]
    assert told == ["pulley", "odometer", "cylinders", "tightening", "drives"]


@pytest.mark.parametrize(("tightening", "lines"), TIGHTENED)
def test_a_stretch_belt_and_an_unknown_one_come_off_only_with_a_new_one_in_hand(
    before_off: Any, tightening: str | None, lines: list[str]
) -> None:
    before_off.play(c.TellFact, fact="tightening", value=tightening).play(c.TellFact, fact="drives", value=None)
    assert (list(before_off.step.lines) == lines) == bool(lines)
    before_off.enter()
    pressed = [event.confirmation for event in before_off.happened(e.ThingConfirmed)]
    assert pressed.count(NEW_BELT) == len(lines)
    assert not refused(before_off.events)


def test_what_was_only_told_ahead_is_confirmed_by_the_picture_on_a_line_of_its_own(
    talk: Callable[..., Any], careful: Knowledge
) -> None:
    told = talk(careful, "buzz-apart").told().play(c.TellFact, fact="tightening", value="arm")
    told.play(c.TellFact, fact="drives", value=None).answer("belt-look", "sound")
    assert told.step.lines == (BY_PICTURE,)
    told.play(c.CorrectFact, fact="tightening", value="stretch")
    assert told.step.lines == (NEW_BELT,)


def test_no_new_belt_holds_the_check_and_leaves_the_belt_on(before_off: Any) -> None:
    before_off.play(c.TellFact, fact="tightening", value="stretch").play(c.TellFact, fact="drives", value=None)
    before_off.no(NEW_BELT, "on order")
    assert before_off.asks == f"held {NEW_BELT}"
    assert before_off.state.condition.belt == "fitted"
    before_off.cannot("idler-spin")
    assert before_off.step.check != "idler-spin"


def test_what_the_vehicle_has_not_got_is_never_asked_about(before_off: Any) -> None:
    before_off.play(c.TellFact, fact="tightening", value="arm").play(c.TellFact, fact="drives", value="alternator")
    assert before_off.step.check != "idler-spin"
    assert "idler-spin" not in before_off.state.known
    before_off.play(c.CorrectFact, fact="drives", value="alternator fan")
    assert before_off.step.check == "idler-spin"
    before_off.answer("idler-spin", "smooth").play(c.CorrectFact, fact="drives", value="alternator")
    assert [event.check for event in before_off.happened(e.FindingTakenBack)] == ["idler-spin"]


@pytest.mark.parametrize(("drives", "held"), [("alternator", False), ("alternator water-pump", True), (None, True)])
def test_a_warm_engine_runs_without_its_belt_only_where_that_leaves_the_coolant_pump_in(
    before_off: Any, careful: Knowledge, drives: str | None, held: bool
) -> None:
    before_off.state = replace(before_off.state, engine_ran_ms=before_off.now_ms)
    warm = before_off.play(c.TellFact, fact="tightening", value="arm").play(c.TellFact, fact="drives", value=drives)
    if drives is None:
        warm.answer("idler-spin", "smooth")
    target = careful.states["running-belt-off"]
    assert (warm.asks == "confirm pump-not-driven") != held
    assert not is_cold(warm.state, target, warm.now_ms)
    if not held:
        warm.confirm("pump-not-driven")
    assert is_cold(warm.state, target, warm.now_ms) != held
    pump = {"drives": "alternator water-pump"}
    assert not is_cold(replace(warm.state, facts={**warm.state.facts, **pump}), target, warm.now_ms)


def test_no_to_the_line_of_the_pump_waits_for_a_cold_engine(before_off: Any) -> None:
    before_off.state = replace(before_off.state, engine_ran_ms=before_off.now_ms)
    warm = before_off.play(c.TellFact, fact="tightening", value="arm")
    warm.play(c.TellFact, fact="drives", value="alternator").no("pump-not-driven", "no picture at hand")
    assert warm.asks == "held belt-off-listen"
    assert warm.tick(minutes=121).step.kind == "confirm"


def test_an_audit_refuses_a_stretch_belt_that_came_off_without_a_new_one(before_off: Any) -> None:
    before_off.play(c.TellFact, fact="tightening", value="stretch").play(c.TellFact, fact="drives", value=None)
    before_off.answer("idler-spin", "smooth")
    forged = [
        event.model_copy(update={"value": "stretch"}) if isinstance(event, e.FactTold) else event
        for event in before_off.events
        if not (isinstance(event, e.ThingConfirmed) and event.confirmation == NEW_BELT)
    ]
    assert not refused(before_off.events)
    assert any("taking off destroys this belt" in reason for reason in refused(forged))


def test_a_new_belt_that_was_put_on_is_in_hand_no_more(before_off: Any) -> None:
    before_off.play(c.TellFact, fact="tightening", value="stretch").play(c.TellFact, fact="drives", value=None)
    before_off.answer("idler-spin", "smooth")
    assert NEW_BELT in before_off.state.standing
    turned = e.VehicleTurned(**c.Tick(at_ms=before_off.now_ms, who="Kim").stamp, belt="fitted", battery="connected")
    assert NEW_BELT not in evolve(before_off.state, turned).standing


@pytest.mark.parametrize(
    ("tightening", "check"), [("stretch", "leak-look"), (None, "leak-look"), ("arm", "idler-spin")]
)
def test_everything_that_is_seen_with_the_belt_on_comes_before_a_stretch_belt_is_destroyed(
    talk: Callable[..., Any], careful: Knowledge, tightening: str | None, check: str
) -> None:
    tree = careful.trees["buzz-apart"]
    after = Node(check="leak-look", next=dict.fromkeys(("dry", "leak"), "apart"), cannot="apart")
    idler = tree.nodes["idler"].model_copy(update={"next": {"smooth": "leak", "rough": "c-idler"}, "cannot": "leak"})
    later = tree.model_copy(update={"nodes": {**tree.nodes, "idler": idler, "leak": after}})
    session = talk(careful.model_copy(update={"trees": {"buzz-apart": later}}), "buzz-apart").told()
    session.tells = False
    session.answer("belt-look", "sound").play(c.TellFact, fact="tightening", value=tightening)
    session.play(c.TellFact, fact="drives", value=None)
    assert session.step.check == check


@pytest.mark.parametrize(("told_by", "lines"), [("", ()), ("the customer", (NEW_BELT,))])
def test_a_belt_that_was_found_off_the_vehicle_is_destroyed_by_nobody(
    before_off: Any, careful: Knowledge, told_by: str, lines: tuple[str, ...]
) -> None:
    look = careful.checks["belt-look"]
    off = tuple(outcome.model_copy(update={"belt_off": True}) for outcome in look.outcomes)
    torn = look.model_copy(update={"outcomes": off})
    world = careful.model_copy(update={"checks": {**careful.checks, "belt-look": torn}})
    found = replace(before_off.state.findings["belt-look"], told_by=told_by)
    state = replace(
        before_off.state, findings={"belt-look": found}, facts={**before_off.state.facts, "tightening": None}
    )
    assert (belt_line(world, state, world.states["belt-off"]),) == (lines or ("",))
    opened = replace(state, opened=frozenset({"belt"}))
    assert belt_line(world, opened, world.states["belt-off"]) == NEW_BELT
