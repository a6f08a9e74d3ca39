"""What is fitted by hand for a running engine: first the stopped drive, then the work, then all that running needs."""

from typing import Any

import pytest

from triage.knowledge.models import PULLEYS, Knowledge
from triage.knowledge.walk import walk
from triage.record import events as e
from triage.session import commands as c
from triage.session.evolving import fold

STOPPED = ["parking-brake", "all-at-rest"]
RUNNING = ["parking-brake", "bay-clear", "at-the-key"]


@pytest.fixture
def running(clipped: Any) -> Any:
    """At a check that runs without any set-up."""
    return clipped.answer("belt-look", "sound").enter()


@pytest.fixture
def fitting(running: Any) -> Any:
    """Before the first thing that is confirmed so that clips can go on."""
    return running.play(c.Answer, check="listen", outcomes=("quiet",))


@pytest.fixture
def listening(fitting: Any) -> Any:
    """At the running engine with its clips on."""
    return fitting.enter()


def asked_since(talk: Any, count: int) -> list[str]:
    confirmed = [event.confirmation for event in talk.happened(e.ThingConfirmed)]
    return confirmed[count:]


def test_a_set_up_leads_from_the_running_engine_through_the_stopped_one_and_back(fitting: Any) -> None:
    before = len(fitting.happened(e.ThingConfirmed))
    assert (fitting.asks, fitting.step.state) == ("confirm parking-brake", "stopped")
    fitting.confirm(*STOPPED)
    assert (fitting.asks, fitting.step.state) == ("set-up clip-listen", "stopped")
    assert fitting.state.condition.engine == "stopped"
    fitting.play(c.FinishSetUp, check="clip-listen")
    assert (fitting.asks, fitting.step.state) == ("confirm parking-brake", "running")
    fitting.confirm(*RUNNING)
    assert fitting.asks == "check clip-listen"
    assert asked_since(fitting, before) == [*STOPPED, *RUNNING]


def test_a_set_up_in_the_state_that_is_live_anyway_is_shown_at_once(clipped: Any) -> None:
    clipped.answer("belt-look", "sound").confirm("parking-brake").cannot("listen")
    clipped.confirm(*STOPPED)
    assert clipped.asks == "set-up clip-listen"
    clipped.play(c.FinishSetUp, check="clip-listen").confirm("parking-brake").play(c.TakeBack, check="belt-look")
    clipped.enter().play(c.Answer, check="belt-look", outcomes=("sound",))
    assert clipped.asks == "set-up clip-listen"


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
    fitting.play(c.RefuseConfirmation, confirmation="parking-brake", reason="broken")
    assert fitting.off().asks == "held parking-brake"
    assert fitting.cannot("clip-listen").step.check == "clip-compare"


def test_what_hangs_there_serves_the_next_check_that_is_set_up_word_for_word_alike(listening: Any) -> None:
    listening.play(c.Answer, check="clip-listen", outcomes=("nothing-loud",))
    assert listening.asks == "check clip-compare"


def test_a_clip_at_the_terminal_isolates_the_battery_and_the_session_knows_it(listening: Any) -> None:
    listening.answer("clip-listen", "nothing-loud").answer("clip-compare", "calm")
    before = len(listening.happened(e.ThingConfirmed))
    assert listening.step.state == "isolated"
    listening.enter()
    assert listening.asks == "check clip-live"
    assert asked_since(listening, before) == [*STOPPED, "leads-off", "parking-brake", "leads-on", *RUNNING[1:]]


def test_a_belt_comes_off_with_hands_in_before_the_run_without_it(listening: Any) -> None:
    listening.answer("clip-listen", "nothing-loud").answer("clip-compare", "calm").answer("clip-live", "lost")
    listening.enter()
    assert (listening.asks, listening.state.condition.engine) == ("held bare-run", "stopped"), "warm"
    listening.tick(121)
    before = len(listening.happened(e.ThingConfirmed))
    listening.confirm(*STOPPED)
    assert (listening.asks, listening.step.state) == ("set-up bare-run", "belt-off")
    listening.enter()
    assert listening.asks == "run-ready bare-run"
    assert asked_since(listening, before) == [*STOPPED, "maker-allows", "bay-clear", "at-the-key"]
    listening.play(c.StartRun).play(c.EndRun).play(c.Answer, check="bare-run", outcomes=("no-hum",))
    listening.play(c.TakeBack, check="bare-run").confirm(*STOPPED)
    assert listening.asks == "set-up bare-run", "each run is set up anew"


USED_UP = {
    "a pause": lambda talk: talk.play(c.Pause).play(c.Resume),
    "a hand-over": lambda talk: talk.play(c.HandOver, to="Bo").play(c.Resume),
    "a correction": lambda talk: talk.play(c.Correct, check="belt-look", outcomes=("sound",)),
    "confirmations that aged": lambda talk: talk.tick(46),
    "a clock that jumped": lambda talk: talk.tick(-5),
}


@pytest.mark.parametrize("what", USED_UP)
@pytest.mark.parametrize("when", ["set up", "half way", "running"])
def test_a_set_up_is_used_up_by(fitting: Any, what: str, when: str) -> None:
    fitting.confirm(*STOPPED).play(c.FinishSetUp, check="clip-listen")
    if when != "set up":
        fitting.confirm("parking-brake")
    if when == "running":
        fitting.enter()
    USED_UP[what](fitting)
    if when == "running":
        fitting.off()
    assert (fitting.asks, fitting.step.state) == ("confirm parking-brake", "stopped")
    fitting.confirm(*STOPPED)
    assert fitting.asks == "set-up clip-listen"


def test_a_refusal_on_the_way_to_the_running_engine_leads_back_to_the_set_up(fitting: Any) -> None:
    fitting.confirm(*STOPPED).play(c.FinishSetUp, check="clip-listen").confirm("parking-brake")
    fitting.play(c.RefuseConfirmation, confirmation="bay-clear", reason="a lead has come loose")
    assert fitting.asks == "held bay-clear"
    assert fitting.play(c.TryAgain).step.state == "stopped"
    assert fitting.confirm(*STOPPED).asks == "set-up clip-listen"


def test_a_set_up_of_the_proof_is_asked_again(listening: Any) -> None:
    listening.answer("clip-listen", "loud").cannot("clip-compare").confirm("parking-brake").cannot("clip-live")
    listening.cannot("bare-run") if listening.step.kind == "held" else listening.confirm("parking-brake")
    while listening.step.check == "bare-run":
        listening.enter().cannot("bare-run")
    listening.play(c.BeginRemedy).enter().play(c.RecordPart, part="idler", done="renewed")
    listening.answer("idler-spin", "smooth").confirm("parking-brake")
    assert (listening.step.check, listening.step.state, listening.step.proving) == ("clip-listen", "stopped", True)
    listening.enter()
    made = [event.check for event in listening.happened(e.SetUpFinished)]
    assert (listening.asks, made) == ("check clip-listen", ["clip-listen", "clip-listen"])


def test_a_set_up_is_replayed(listening: Any) -> None:
    assert listening.state.prepared is not None
    assert listening.replayed() == listening.state == fold(listening.events)


# --- every running check of every shipped tree, from every state that the vehicle may be left in


def running_checks(knowledge: Knowledge) -> list[tuple[str, str, str, dict[str, tuple[str, ...]]]]:
    """Each running check with a set-up, once for each tree: tree, check, pulley, and findings that lead to it."""
    found: list[tuple[str, str, str, dict[str, tuple[str, ...]]]] = []
    for symptom, tree in knowledge.trees.items():
        for pulley in PULLEYS:
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
                waiting += [{**findings, check.id: (outcome.id,)} for outcome in check.outcomes]
                waiting.append({**findings, check.id: ()})
    return found


def test_no_path_of_any_tree_comes_to_a_set_up_check_but_through_its_set_up(
    shipped: Knowledge, walking: Any, talk: Any
) -> None:
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
    check = knowledge.checks[check_id]
    stamp = c.Tick(at_ms=session.now_ms, who="Kim").stamp
    told = [
        e.CheckAnswered(**stamp, check=each, outcomes=outcomes, proving=False)
        if outcomes
        else e.CheckNotDone(**stamp, check=each, reason="no access", proving=False)
        for each, outcomes in findings.items()
    ]
    left = [*told, *(entered(knowledge, left_in, session.now_ms) if left_in else [])]
    session.state = fold(left, session.state)
    watcher, seen = walking.Watcher(knowledge), left
    order = [""]
    session.tick()
    for _ in range(100):
        for event in (*seen, *session.last):
            watcher.see(event)
        watcher.look()
        seen, step = [], session.step
        order += [step.state] if order[-1] != step.state else []
        if step.kind in ("check", "run-ready"):
            break
        if step.kind == "held":
            session.tick(121)
        elif step.kind == "switch-off":
            session.off()
        elif step.kind == "set-up":
            session.play(c.FinishSetUp, check=check_id)
        else:
            session.confirm(step.confirmation)
    assert (session.step.check, session.step.kind in ("check", "run-ready")) == (check_id, True)
    assert check.set_up is not None
    assert order[-2:] == [check.set_up.state, check.state]


def entered(knowledge: Knowledge, state_id: str, at_ms: int) -> list[e.Event]:
    state = knowledge.states[state_id]
    confirmed = [
        e.ThingConfirmed(
            **c.Tick(at_ms=at_ms, who="Kim").stamp,
            state=state_id,
            confirmation=thing,
            name="Robin" if knowledge.confirmations[thing].names else "",
        )
        for thing in state.confirmations
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
