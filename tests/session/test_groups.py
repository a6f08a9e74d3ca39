"""What was confirmed stands until something ends its group: what cannot have changed is not asked again."""

from typing import Any

import pytest

from tests.bench.walk_ledger import ENDS as ENDS_OF_THINGS
from triage.knowledge.groups import ENDED_BY, ended_by
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c

ENDS = [
    ("driven", ("cannot-roll", "support", "air-and-fire", "still", "key-kept", "starts-itself", "start-tried")),
    ("lifted", ("cannot-roll", "support")),
    ("brake-touched", ("cannot-roll",)),
    ("another-bay", ("air-and-fire",)),
    ("joined", ("people",)),
    ("turned", ("still",)),
    ("ignition-on", ("still", "key-kept", "start-tried")),
    ("fan-started", ("still",)),
    ("key-left", ("key-kept", "start-tried")),
    ("key-found", ("key-kept", "starts-itself", "start-tried")),
    ("lead-on", ("key-kept", "starts-itself", "start-tried")),
]
"""What each thing that happens ends of what stands with hands in."""


@pytest.fixture
def ran(listening: Any) -> Any:
    """The engine was switched off; nothing else has happened since."""
    return listening.play(c.EndRun)


@pytest.mark.parametrize(("what", "lines"), ENDS, ids=[what for what, _ in ENDS])
def test_what_happens_ends_the_lines_of_its_groups_and_no_other(mounting: Any, what: str, lines: Any) -> None:
    before = set(mounting.state.standing)
    mounting.changed(what)
    assert before - set(mounting.state.standing) == set(lines)
    mounting.enter()
    assert mounting.step.kind in ("check", "round")


def test_nothing_is_asked_again_that_nothing_ended(mounting: Any) -> None:
    mounting.play(c.Note, text="rust").play(c.CorrectFact, fact="cylinders", value=6.0)
    asked = len(mounting.happened(e.ThingConfirmed))
    mounting.tick(minutes=20)
    assert len(mounting.happened(e.ThingConfirmed)) == asked
    assert mounting.step.round == "look-by-hand"


def test_a_correction_with_hands_where_they_were_ends_nothing(measuring: Any) -> None:
    standing = measuring.state.standing
    measuring.play(c.TakeBack, check="heard").play(c.Answer, check="heard", outcomes=("not-now",))
    assert measuring.state.standing == standing


def test_every_line_of_a_card_is_pressed_in_any_order_and_keeps_its_place(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard")
    lines = buzz.step.lines
    assert lines == ("parking-brake", "all-at-rest")
    buzz.confirm("all-at-rest")
    assert (buzz.step.lines, buzz.open) == (lines, ["parking-brake"])
    assert "pressed already" in buzz.refuses(c.Confirm, confirmation="all-at-rest")
    assert buzz.confirm("parking-brake").asks == "check belt-look"


def test_a_card_that_does_not_fit_is_split(shipped: Knowledge, talk: Any) -> None:
    session = talk(shipped, "belt-chirp").told().answer("complaint-heard", "not-now")
    while session.step.kind != "confirm":
        session.answer(session.step.check, shipped.checks[session.step.check].outcomes[0].id)
    assert len(session.step.lines) == 4
    assert len(session.confirm(*session.step.lines).step.lines) == 3


# --- the start is tried, after the first look


def test_a_look_from_outside_needs_no_start_to_have_been_tried(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound")
    assert "start-tried" not in buzz.state.standing


def test_hands_go_in_only_after_the_start_was_tried(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "chirp")
    buzz.off()
    assert buzz.step.check == "idler-spin"
    assert "start-tried" in buzz.step.lines


def test_where_the_start_may_not_be_tried_hands_go_in_only_isolated_and_proved_dead(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell").cannot("overrun-torque").cannot("cap-look")
    assert (buzz.step.check, buzz.step.state) == ("idler-spin", "isolated-belt-off")
    assert "leads-off" in buzz.step.lines


def test_what_needs_the_voltage_is_not_made_where_the_start_may_not_be_tried(small: Knowledge, talk: Any) -> None:
    spin = small.checks["idler-spin"].model_copy(update={"takes_voltage": True})
    knowledge = small.model_copy(update={"checks": {**small.checks, spin.id: spin}})
    buzz = talk(knowledge, "buzz").told().answer("heard", "yes-heard").answer("belt-look", "cannot-tell")
    buzz.cannot("overrun-torque").cannot("cap-look")
    assert (buzz.asks, buzz.step.check) == ("held start-tried", "idler-spin")
    assert "changes nothing" in buzz.refuses(c.TryAgain)


# --- a state satisfies every check that needs less


def test_nothing_connects_the_battery_again_for_a_check_with_hands_in(measuring: Any) -> None:
    measuring.answer("overrun-torque", "free").answer("cap-look", "clean").enter()
    assert (measuring.asks, measuring.step.state) == ("check idler-spin", "isolated-belt-off")
    assert measuring.state.condition.battery == "isolated"


@pytest.mark.parametrize(
    ("volts", "why"),
    [((), "Two readings"), ((12.6,), "Two readings"), ((0.1, 0.0), "near zero"), ((12.6, 0.5), "not dead")],
)
def test_dead_is_proved_by_two_readings(buzz: Any, volts: tuple[float, ...], why: str) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "cannot-tell")
    assert why in buzz.refuses(c.Confirm, confirmation="leads-off", volts=volts)
    buzz.play(c.Confirm, confirmation="leads-off", volts=(12.6, 0.49))
    assert buzz.happened(e.ThingConfirmed)[-1].proof == ("12.6 V", "0.49 V")


def test_what_hands_put_on_again_comes_first_and_ends_what_hands_end(measuring: Any) -> None:
    measuring.play(c.Correct, check="belt-look", outcomes=("sound",)).answer("leak-look", "dry")
    assert (measuring.step.check, measuring.open) == ("listen", ["leads-on"])
    measuring.confirm("leads-on")
    assert measuring.state.condition.battery == "connected"
    assert measuring.open == ["bay-clear", "nobody-in", "at-the-key"]


# --- the engine runs


def test_while_the_engine_runs_nothing_is_asked_but_to_switch_it_off(listening: Any) -> None:
    listening.play(c.Answer, check="listen", outcomes=("chirp",))
    assert listening.step.kind == "switch-off"
    assert listening.play(c.EndRun).step.kind == "confirm"


@pytest.mark.parametrize("what", ["stepped-in", "left-seat", "hands-in", "driven", "key-found", "brake-touched"])
def test_what_ends_anything_that_an_engine_needs_asks_to_switch_off(listening: Any, what: str) -> None:
    lines = {"brake-touched": "parking-brake", "stepped-in": "nobody-in", "hands-in": "bay-clear"}
    listening.changed(what)
    assert lines.get(what, "at-the-key") not in listening.state.standing
    assert listening.step.kind == "switch-off"


def test_a_run_has_a_limit_although_nobody_types(listening: Any) -> None:
    assert listening.step.until_ms - listening.now_ms == 15 * 60_000
    listening.now_ms += 15 * 60_000 - 2000
    assert listening.play(c.Tick).step.kind == "check"
    assert listening.play(c.Tick).step.kind == "switch-off"
    assert listening.state.condition.engine == "running", "until the one at the key says that it is off"


def test_after_a_run_hands_go_in_only_still_with_the_key_and_the_start_tried(shipped: Knowledge, talk: Any) -> None:
    ran = _running(shipped, talk, {"complaint-heard": "not-now"})
    while ran.step.kind != "switch-off":
        ran.play(c.Answer, check=ran.step.check, outcomes=(shipped.checks[ran.step.check].outcomes[0].id,))
    ran.off()
    while shipped.states[ran.step.state].near != "hands-in":
        ran.cannot(ran.step.check)
    assert {"still", "key-kept-and-tried"} <= set(ran.step.lines)


def _running(shipped: Knowledge, talk: Any, found: dict[str, str] | None = None) -> Any:
    session = talk(shipped, "shutdown-buzz").told()
    while session.state.condition.engine != "running":
        check = session.enter().step.check
        if session.state.condition.engine != "running":
            outcome = (found or {}).get(check, shipped.checks[check].outcomes[0].id)
            session.play(c.Answer, check=check, outcomes=(outcome,))
    while session.step.check != "shutdown-listen":
        check = session.step.check
        session.play(c.Answer, check=check, outcomes=(shipped.checks[check].outcomes[0].id,))
    return session


def test_what_stops_the_engine_asks_whether_it_is_off_before_anything_else(shipped: Knowledge, talk: Any) -> None:
    ran = _running(shipped, talk)
    assert "stop" in shipped.checks[ran.step.check].does
    ran.play(c.Answer, check=ran.step.check, outcomes=("buzzing",))
    assert ran.step.kind == "switch-off"


# --- between tries


def test_between_two_tries_one_line_is_asked_with_the_word_called_back(ran: Any) -> None:
    assert ran.open == ["started-again"]
    assert "called back is empty" in ran.refuses(c.Confirm, confirmation="started-again", name=" ")
    ran.play(c.Confirm, confirmation="started-again", name="clear")
    again = ran.happened(e.ThingConfirmed)[-1]
    assert (again.name, again.proof, again.says) == ("Robin", ("clear",), ("nobody-in", "at-the-key"))
    assert (ran.asks, ran.state.condition.engine) == ("check listen", "running")


@pytest.mark.parametrize("what", ["hands-in", "stepped-in", "joined", "left-seat", "key-left"])
def test_anything_else_than_the_stop_between_two_tries_asks_for_everybody_anew(ran: Any, what: str) -> None:
    ran.changed(what)
    assert "started-again" not in ran.step.lines
    assert {"nobody-in", "at-the-key"} <= set(ran.step.lines)


def test_a_start_always_needs_its_named_person(listening: Any) -> None:
    listening.play(c.Answer, check="listen", outcomes=("chirp",)).off().answer("idler-spin", "smooth")
    starts = [event for event in listening.happened(e.StateEntered) if event.engine == "running"]
    names = [event for event in listening.happened(e.ThingConfirmed) if "at-the-key" in event.lines]
    assert len(names) == len(starts) == 1


# --- alone


@pytest.fixture
def alone(buzz: Any) -> Any:
    buzz.play(c.SayAlone, alone=True).answer("heard", "yes-heard").answer("belt-look", "sound")
    return buzz.answer("leak-look", "dry")


def test_alone_only_what_can_be_done_from_the_seat_is_offered(alone: Any) -> None:
    assert (alone.asks, alone.step.check) == ("held alone", "listen")
    alone.play(c.SayAlone, alone=False)
    assert alone.step.kind == "confirm"


def test_alone_the_technician_is_the_named_person_and_no_group_is_left_out(small: Knowledge, talk: Any) -> None:
    listen = small.checks["listen"].model_copy(update={"from_seat": True})
    knowledge = small.model_copy(update={"checks": {**small.checks, listen.id: listen}})
    alone = talk(knowledge, "buzz").told().play(c.SayAlone, alone=True).answer("heard", "yes-heard")
    alone.answer("belt-look", "sound").answer("leak-look", "dry")
    assert set(alone.step.lines) == {"bay-clear", "nobody-in", "at-the-key", "alone"}
    alone.play(c.Confirm, confirmation="at-the-key")
    named = alone.happened(e.ThingConfirmed)[-1]
    assert (named.name, named.alone) == ("Kim", True)
    alone.enter()
    assert alone.asks == "check listen"
    alone.changed("joined")
    assert (alone.step.kind, alone.state.alone) == ("switch-off", False)


# --- looks, and time


@pytest.mark.parametrize("how", ["driven", "belt-moved", "left", "worked"])
def test_a_look_that_lets_an_engine_run_is_made_again_before_the_next_start(buzz: Any, how: str) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry")
    if how == "left":
        buzz.play(c.Pause).play(c.Resume)
    elif how == "worked":
        buzz.answer("listen", "buzz").off().read("overrun-torque", "2.5 N·m").play(c.BeginRemedy).enter()
        buzz.play(c.RecordPart, part="pulley", done="renewed").play(c.RecordPart, part="tensioner", done="renewed")
        buzz.play(c.RecordTorque, torque="pulley-nut", value_nm=None, text="", wrench="", reference="")
        buzz.answer("overrun-torque", "free")
    else:
        buzz.changed(how)
    asked = []
    while buzz.enter().step.check != "listen":
        asked.append(buzz.step.check)
        buzz.answer(buzz.step.check, buzz.knowledge.checks[buzz.step.check].outcomes[0].id)
    assert asked == ["belt-look", "leak-look"]


def test_a_belt_that_was_off_for_a_check_is_asked_for_and_no_look_is_made_again(listening: Any) -> None:
    listening.play(c.Answer, check="listen", outcomes=("chirp",)).off().answer("idler-spin", "smooth")
    assert listening.state.condition.belt == "removed"
    listening.play(c.TakeBack, check="listen")
    assert listening.open == ["belt-on"]
    listening.confirm("belt-on")
    assert {"bay-clear", "nobody-in"} <= set(listening.open)
    assert listening.enter().asks == "check listen"
    assert not listening.happened(e.LooksEnded)


def test_after_an_hour_with_hands_in_one_line_is_asked_and_unanswered_it_ends_everything(mounting: Any) -> None:
    mounting.tick(minutes=25).play(c.Note, text="still at it").tick(minutes=25).play(c.Note, text="and on")
    mounting.tick(minutes=11)
    assert mounting.open == ["same-as-before"]
    mounting.confirm("same-as-before")
    assert mounting.step.round == "look-by-hand"
    mounting.tick(minutes=31)
    assert mounting.open == ["same-as-before"], "half an hour without a key"
    mounting.tick(minutes=10)
    assert not mounting.state.standing


def test_that_all_is_as_before_is_said_once_and_not_taken_back_to_gain_another_hour(mounting: Any) -> None:
    mounting.tick(minutes=31).confirm("same-as-before")
    asked = dict(mounting.state.standing), mounting.state.recap_ms
    assert "as before" in mounting.refuses(c.Undo)
    assert (dict(mounting.state.standing), mounting.state.recap_ms) == asked


def test_an_answer_that_comes_after_half_an_hour_is_asked_about_first(mounting: Any) -> None:
    mounting.wait(31)
    assert "run out" in mounting.refuses(c.Answer, check="mounting", outcomes=("sound",))


def test_a_no_to_nothing_moved_leaves_nothing_standing(mounting: Any) -> None:
    mounting.tick(minutes=31).no("same-as-before")
    assert not mounting.state.standing
    assert {"belt-on", "reconnected"} <= mounting.state.due


def test_an_answer_faster_than_a_person_reads_is_flagged_and_taken(shipped: Knowledge, talk: Any) -> None:
    session = talk(shipped, "belt-chirp").told().answer("complaint-heard", "not-now")
    while session.step.kind != "confirm":
        session.answer(session.step.check, shipped.checks[session.step.check].outcomes[0].id)
    session.wait(0.5).confirm("cannot-roll").confirm("support")
    assert [event.quick for event in session.happened(e.ThingConfirmed)] == [False, True]


def test_what_was_clipped_on_is_off_before_the_vehicle_leaves(buzz: Any) -> None:
    buzz.answer("heard", "yes-heard").answer("belt-look", "sound").answer("leak-look", "dry").answer("listen", "chirp")
    buzz.off().answer("idler-spin", "rough").play(c.BeginRemedy).enter().play(
        c.RecordPart, part="idler", done="renewed"
    )
    while buzz.step.check:
        check = buzz.knowledge.checks[buzz.enter().step.check]
        buzz.answer(check.id, check.outcomes[0].id)
        if buzz.step.kind == "switch-off":
            buzz.off()
    assert buzz.open == ["nothing-left"]
    assert "not what is asked" in buzz.refuses(c.Close, how="signed-off")
    buzz.play(c.Pause).play(c.Resume)
    assert buzz.open == ["nothing-left"], "wherever the vehicle was meanwhile"
    buzz.confirm("nothing-left").play(c.Close, how="signed-off")
    assert buzz.state.closed


def test_a_shop_cannot_say_that_a_vehicle_arrives_with_something_clipped_on(shipped: Knowledge, talk: Any) -> None:
    off = shipped.confirmations["nothing-left"].model_copy(update={"arrives_so": False})
    shop = shipped.model_copy(update={"confirmations": {**shipped.confirmations, off.id: off}})
    session = talk(shop, "belt-chirp").told()
    while session.step.check != "mounting":
        session.answer(session.step.check, shop.checks[session.step.check].outcomes[0].id)
    session.enter().answer("mounting", shop.checks["mounting"].outcomes[0].id)
    assert "Not confirmed: Clip-ons" in session.refuses(c.Close, how="without-repair", reason="sold")


def test_every_line_is_ended_by_all_that_ends_any_of_its_things(shipped: Knowledge) -> None:
    """What ends a thing stands in the watcher once more, written down from the hazard log."""
    for line in (one for one in shipped.confirmations.values() if not one.instead_of):
        for thing in line.things or {line.id: line.hazard}:
            missing = set(ENDS_OF_THINGS[thing]) - ended_by(line)
            assert not missing, (line.id, thing, missing)


def test_what_is_isolated_is_isolated_no_more_once_a_lead_is_on_or_the_vehicle_was_moved(measuring: Any) -> None:
    for what in ("lead-on", "driven"):
        assert "leads-off" not in measuring.enter().changed(what).state.standing


def test_every_group_is_ended_by_what_the_specification_says() -> None:
    assert all(ENDED_BY.values())
    assert set(ENDED_BY["bay-clear"]) == {"driven", "hands-in"}
    assert set(ENDED_BY["everyone-out"]) == {"driven", "stop", "joined", "hands-in", "stepped-in"}
    assert set(ENDED_BY["at-the-key"]) >= {"driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"}
    assert set(ENDED_BY["alone"]) == {"driven", "stop", "joined", "hands-in", "left-seat"}
    assert set(ENDED_BY["leaving"]) == {"hands-in"}
