"""What is fitted by hand for a running engine: first the stopped drive, then the work, then all that running needs."""

from itertools import product
from typing import Any

import pytest

from triage.knowledge.groups import arrives_so
from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.walk import walk
from triage.record import events as e
from triage.session import commands as c
from triage.session.evolving import fold

STOPPED = ["all-at-rest", "start-tried"]
RUNNING = ["bay-clear", "nobody-in", "at-the-key"]

IS_IT_THERE = "complaint-now"
"""Asked in each run before a test of the complaint."""


@pytest.fixture
def running(clipped: Any) -> Any:
    """At a check that runs without any set-up."""
    return clipped.answer("belt-look", "sound").enter()


@pytest.fixture
def fitting(running: Any) -> Any:
    """Before the first thing that is confirmed so that clips can go on."""
    return running.play(c.Answer, check="listen", outcomes=("quiet",)).off()


@pytest.fixture
def listening(fitting: Any) -> Any:
    """At the running engine with its clips on."""
    return fitting.enter()


def asked_since(talk: Any, count: int) -> list[str]:
    confirmed = [event.confirmation for event in talk.happened(e.ThingConfirmed)]
    return confirmed[count:]


def test_a_set_up_leads_from_the_running_engine_through_the_stopped_one_and_back(fitting: Any) -> None:
    before = len(fitting.happened(e.ThingConfirmed))
    assert (fitting.open, fitting.step.state) == (STOPPED, "stopped")
    fitting.confirm(*STOPPED)
    assert (fitting.asks, fitting.step.state) == ("set-up clip-listen", "stopped")
    assert fitting.state.condition.engine == "stopped"
    fitting.play(c.FinishSetUp, check="clip-listen")
    assert (fitting.open, fitting.step.state) == (RUNNING, "running"), "hands were in, so the bay is cleared anew"
    fitting.confirm(*RUNNING)
    assert fitting.asks == "check clip-listen"
    assert asked_since(fitting, before) == [*STOPPED, *RUNNING]


def test_nothing_is_answered_while_it_is_set_up_and_nothing_else_is_set_up(fitting: Any) -> None:
    assert "not what is asked" in fitting.refuses(c.FinishSetUp, check="clip-listen")
    fitting.confirm(*STOPPED)
    assert "not what is asked" in fitting.refuses(c.Answer, check="clip-listen", outcomes=("loud",))
    assert "not the check" in fitting.refuses(c.FinishSetUp, check="clip-live")


def test_what_cannot_be_set_up_could_not_be_done(fitting: Any) -> None:
    fitting.confirm(*STOPPED).cannot("clip-listen")
    assert fitting.state.findings["clip-listen"].outcomes == ()
    assert fitting.asks == "set-up clip-compare"


def test_the_way_to_a_set_up_can_be_refused_and_left_out(fitting: Any) -> None:
    assert fitting.no("all-at-rest").asks == "held all-at-rest"
    assert fitting.cannot("clip-listen").step.check == "clip-compare"


def test_what_hangs_there_serves_the_next_check_that_is_set_up_word_for_word_alike(listening: Any) -> None:
    listening.play(c.Answer, check="clip-listen", outcomes=("nothing-loud",))
    assert listening.asks == "check clip-compare"


def test_a_clip_at_the_terminal_isolates_the_battery_and_the_session_knows_it(listening: Any) -> None:
    listening.answer("clip-listen", "nothing-loud").answer("clip-compare", "calm").off()
    before = len(listening.happened(e.ThingConfirmed))
    assert listening.step.state == "isolated"
    listening.enter()
    assert listening.asks == "check clip-live"
    assert asked_since(listening, before) == ["all-at-rest", "leads-off", "leads-on", *RUNNING]


def test_a_belt_comes_off_with_hands_in_before_the_run_without_it(listening: Any) -> None:
    listening.answer("clip-listen", "nothing-loud").answer("clip-compare", "calm").answer("clip-live", "lost").off()
    assert (listening.asks, listening.state.condition.engine) == ("held bare-run", "stopped"), "warm"
    listening.tick(121)
    assert listening.step.state == "belt-off"
    while listening.step.kind == "confirm":
        listening.confirm(*listening.open)
    assert (listening.asks, listening.step.state) == ("set-up bare-run", "belt-off")
    before = len(listening.happened(e.ThingConfirmed))
    listening.enter()
    assert listening.asks == "run-ready bare-run"
    assert asked_since(listening, before) == ["maker-allows", *RUNNING]
    listening.play(c.StartRun).play(c.EndRun).play(c.Answer, check="bare-run", outcomes=("no-hum",))
    listening.play(c.TakeBack, check="bare-run")
    assert listening.step.lines == ("maker-allows", "started-again"), "nobody went in: it is set up still"


USED_UP = {
    "a pause": lambda talk: talk.play(c.Pause).play(c.Resume),
    "a hand-over": lambda talk: talk.play(c.HandOver, to="Bo").play(c.Resume),
    "something that changed": lambda talk: talk.changed("hands-in"),
    "a clock that jumped": lambda talk: talk.tick(-5),
}


@pytest.mark.parametrize("what", USED_UP)
@pytest.mark.parametrize("when", ["set up", "half way", "running"])
def test_a_set_up_is_used_up_by(fitting: Any, what: str, when: str) -> None:
    fitting.confirm(*STOPPED).play(c.FinishSetUp, check="clip-listen")
    if when != "set up":
        fitting.confirm("bay-clear")
    if when == "running":
        fitting.enter()
    USED_UP[what](fitting)
    if when == "running":
        fitting.off()
    while fitting.step.check == "belt-look" or fitting.step.kind == "confirm":
        fitting.enter_one_card() if fitting.step.kind == "confirm" else fitting.answer("belt-look", "sound")
    assert fitting.asks == "set-up clip-listen"


def test_a_refusal_on_the_way_to_the_running_engine_leads_back_to_the_set_up(fitting: Any) -> None:
    fitting.confirm(*STOPPED).play(c.FinishSetUp, check="clip-listen")
    assert fitting.no("bay-clear", "a lead has come loose").asks == "held bay-clear"
    assert fitting.play(c.TryAgain).asks == "set-up clip-listen"


def test_everything_that_the_proof_needs_is_set_up_before_its_one_start(listening: Any) -> None:
    listening.answer("clip-listen", "loud").cannot("clip-compare").off().enter().cannot("clip-live")
    while listening.step.kind != "conclusion":
        listening.enter().cannot(listening.step.check) if listening.step.check != "clip-listen" else listening.answer(
            "clip-listen", "loud"
        )
    listening.play(c.BeginRemedy).enter().play(c.RecordPart, part="idler", done="renewed")
    listening.answer("idler-spin", "smooth").answer("belt-look", "sound")
    while listening.step.kind == "confirm":
        listening.confirm(*listening.open)
    assert (listening.asks, listening.step.proving) == ("set-up clip-listen", True)
    listening.enter()
    assert listening.asks == "check clip-listen"


def test_a_set_up_is_replayed(listening: Any) -> None:
    assert listening.state.prepared
    assert listening.replayed() == listening.state == fold(listening.events)


# --- every running check of every shipped tree, from every state that the vehicle may be left in


def running_checks(knowledge: Knowledge) -> list[tuple[str, str, str, dict[str, tuple[str, ...]]]]:
    """Each running check with a set-up, once for each tree: tree, check, pulley, and findings that lead to it."""
    found: list[tuple[str, str, str, dict[str, tuple[str, ...]]]] = []
    for symptom, tree in knowledge.trees.items():
        # Which findings first lead to a node decides what is asked behind it: the normal ones first, and last.
        for pulley, way in product(PULLEYS, (1, -1)):
            seen: set[str] = set()
            waiting: list[dict[str, tuple[str, ...]]] = [{}]
            while waiting:
                findings = waiting.pop()
                place = walk(knowledge, tree, findings, pulley)
                if place.node_id in seen or place.node.check is None:
                    continue
                seen.add(place.node_id)
                check = knowledge.checks[place.node.check]
                if check.set_up and all((symptom, check.id) != each[:2] for each in found):
                    found.append((symptom, check.id, pulley, findings))
                answers = [(), *((outcome.id,) for outcome in check.outcomes)]
                waiting += [{**findings, check.id: answer} for answer in answers[::way]]
    return found


def test_no_path_of_any_tree_comes_to_a_set_up_check_but_through_its_set_up(
    shipped: Knowledge, walking: Any, talk: Any
) -> None:
    # One by one: a round that is offered before a check has its own tests.
    shipped = shipped.model_copy(update={"rounds": {}})
    places = running_checks(shipped)
    assert {check for _, check, _, _ in places} == {check.id for check in shipped.checks.values() if check.set_up}
    for symptom, check_id, pulley, findings in places:
        for left_in in (None, *shipped.states):
            lead_through(
                shipped,
                walking,
                talk(shipped, symptom).told(None if pulley == "unknown" else pulley),
                (check_id, findings, left_in),
            )


def lead_through(knowledge: Knowledge, walking: Any, session: Any, at: tuple[str, Any, str | None]) -> None:
    """Put a session before a check, the vehicle in the state it was left in, and confirm its way to the check."""
    check_id, findings, left_in = at
    # Without a belt that runs true what takes a load is held, and nothing is set up.
    findings = {each: ("runs-true",) if each == "belt-tracking" else told for each, told in findings.items()}
    check = knowledge.checks[check_id]
    stamp = c.Tick(at_ms=session.now_ms, who="Kim").stamp
    told = [
        e.CheckAnswered(**stamp, check=each, outcomes=outcomes, proving=False)
        if outcomes
        else e.CheckNotDone(**stamp, check=each, reason="no access", proving=False)
        for each, outcomes in findings.items()
    ]
    left = entered(knowledge, left_in, session.now_ms) if left_in else []
    session.state = fold([*told, *left], session.state)
    watcher = walking.Watcher(knowledge)
    for event in (*session.events, *told):
        watcher.see(event)
    for event in left:
        watcher.ledger.see(event)
    order = [""]
    session.tick()
    for _ in range(100):
        for event in session.last:
            watcher.see(event)
        watcher.look()
        step = session.step
        order += [step.state] if order[-1] != step.state else []
        if step.check == "belt-tracking" and step.kind == "check":
            session.answer("belt-tracking", "runs-true")
            continue
        if step.check == IS_IT_THERE:
            session.answer(IS_IT_THERE, "there")
        elif step.kind in ("check", "run-ready"):
            break
        elif step.kind == "held":
            session.tick(121)
        elif step.kind == "switch-off":
            session.off()
        elif step.kind == "set-up":
            session.play(c.FinishSetUp, check=check_id)
        elif step.kind == "confirm":
            session.confirm(session.open[0])
        else:
            session.answer(step.check, "sound")
    assert (session.step.check, session.step.kind in ("check", "run-ready")) == (check_id, True)
    # Isolated does for whatever takes no voltage.
    assert check.set_up is not None
    assert order[-1] == check.state
    assert session.happened(e.SetUpFinished)[-1].state.removeprefix("isolated").strip("-") in check.set_up.state


def entered(knowledge: Knowledge, state_id: str, at_ms: int) -> list[e.Event]:
    state = knowledge.states[state_id]
    confirmed = [
        e.ThingConfirmed(
            **c.Tick(at_ms=at_ms, who="Kim").stamp,
            state=state_id,
            confirmation=thing,
            name="Robin" if knowledge.confirmations[thing].proof == "name" else "",
            proof=("12.6 V", "0 V") if knowledge.confirmations[thing].proof == "dead" else (),
        )
        for thing in state.confirmations
        if not arrives_so(knowledge.confirmations[thing])
    ]
    return [
        *confirmed,
        e.StateEntered(
            **c.Tick(at_ms=at_ms, who="Kim").stamp,
            state=state_id,
            engine="stopped" if state.run_limit else state.engine,
            belt=state.belt,
            battery=state.battery,
        ),
    ]
