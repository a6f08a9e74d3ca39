"""Random sessions under an independent watcher: nothing running without its live interlock, whatever people do."""

import random
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from tests.sizes import few_or_all
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record.payloads import MakerFigure
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.evolving import evolve
from triage.session.state import State

# Seconds between two commands: typing, the end of a run, an interlock that ages, an engine that cools, clocks set back.
PAUSES_S = st.sampled_from([0, 1, 1, 1, 1, 1, 1, 5, 30, 240, 300, 900, 3600, 7200, -1, -60, -7200])
CHANCE = st.integers(0, 2**32 - 1)


def contents(state: State) -> list[object]:
    """All that a state holds, as it is now; what a state maps to is frozen itself."""
    held = (getattr(state, field.name) for field in fields(state))
    return [dict(one) if isinstance(one, dict) else one for one in held]


def machine(knowledge: Knowledge, walking: Any) -> type[RuleBasedStateMachine]:
    class Sessions(RuleBasedStateMachine):
        """Any command at any moment; `chance` picks among what fits the step."""

        def __init__(self) -> None:
            super().__init__()
            self.session: Any = None
            self.replica = State()
            self.replayed = 0

        @initialize(symptom=st.sampled_from(sorted(knowledge.trees)), gate=st.sampled_from(["none"] * 9 + ["hybrid"]))
        def start(self, symptom: str, gate: str) -> None:
            self.session = walking.Session(knowledge, symptom)
            self.session.give(c.AnswerGate(**self.session.base(), answer=gate))

        def give(self, command: c.Command) -> None:
            before, seen = contents(self.session.state), self.session.state
            try:
                decide(knowledge, seen, command)
                accepted = True
            except CommandRefused:
                accepted = False
            assert contents(seen) == before, "deciding alone changed the session"
            assert self.session.give(command) == accepted, "the same command, decided twice, came out differently"
            if not accepted:
                assert self.session.state is seen
                assert contents(seen) == before

        @rule(pause_s=st.sampled_from([0, 1, 1, 1, 5]), chance=CHANCE)
        def answer_the_step(self, pause_s: int, chance: int) -> None:
            if not self.session.state.closed:
                base = self.session.base(1000 * pause_s)
                self.give(walking.sensible(random.Random(chance), knowledge, self.session.state, base))

        @rule(pauses=st.integers(1, 6), chance=CHANCE)
        def answer_several_steps(self, pauses: int, chance: int) -> None:
            chances = random.Random(chance)
            for _ in range(pauses):
                self.answer_the_step(1, chances.getrandbits(32))

        @rule(pause_s=PAUSES_S, chance=CHANCE, who=st.sampled_from(["Ann", "Bo"]))
        def say_anything(self, pause_s: int, chance: int, who: str) -> None:
            base = self.session.base(1000 * pause_s, who)
            self.give(walking.wild(random.Random(chance), knowledge, self.session.state, base))

        @rule(pause_s=PAUSES_S)
        def let_time_pass(self, pause_s: int) -> None:
            self.give(c.Tick(**self.session.base(1000 * pause_s)))

        @precondition(lambda self: self.session.state.findings)
        @rule(chance=CHANCE)
        def take_a_finding_back(self, chance: int) -> None:
            check = random.Random(chance).choice(sorted(self.session.state.findings))
            self.give(c.TakeBack(**self.session.base(), check=check))

        @precondition(lambda self: self.session.state.acts)
        @rule()
        def take_the_last_act_back(self) -> None:
            self.give(c.Undo(**self.session.base()))

        @precondition(lambda self: self.session.state.step.kind == "confirm")
        @rule()
        def refuse_to_confirm(self) -> None:
            step = self.session.state.step
            self.give(c.RefuseConfirmation(**self.session.base(), confirmation=step.lines[0], reason="not so"))

        @rule(to=st.sampled_from(["Ann", "Bo"]))
        def hand_over(self, to: str) -> None:
            self.give(c.HandOver(**self.session.base(), to=to))

        @precondition(lambda self: self.session.state.run == "running")
        @rule(seconds=st.sampled_from([29, 30, 31, -1]))
        def sit_in_a_run(self, seconds: int) -> None:
            self.give(c.Tick(**self.session.base(1000 * seconds)))

        @invariant()
        def the_events_alone_make_the_same_state(self) -> None:
            for event in self.session.events[self.replayed :] if self.session else ():
                self.replica = evolve(self.replica, type(event).model_validate_json(event.model_dump_json()))
                self.replayed += 1
            assert self.session is None or self.replica == self.session.state

        def teardown(self) -> None:
            if self.session:
                self.session.close()
                assert self.session.state.closed

    return Sessions


QUICK = settings(
    deadline=None,
    max_examples=few_or_all(60, 200),
    stateful_step_count=40,
    suppress_health_check=[HealthCheck.too_slow],
    database=None,
)


@pytest.mark.parametrize("author", ["careful", "careless"])
def test_no_sequence_of_commands_runs_the_engine_without_a_live_interlock(
    small: Knowledge, walking: Any, author: str
) -> None:
    knowledge = {"careful": small, "careless": walking.careless(small)}[author]
    run_state_machine_as_test(machine(knowledge, walking), settings=QUICK)


@pytest.mark.parametrize("seed", [1, 3])
def test_a_soak_of_random_commands_over_the_shipped_trees_finds_nothing(
    shipped: Knowledge, walking: Any, seed: int
) -> None:
    counts = walking.soak(walking.careless(shipped), 2500, seed)
    assert counts["steps"]["check"] > 50
    assert counts["accepted"].total() > 700
    assert counts["happened"]["something-changed"]
    assert counts["happened"]["clock-shifted"]
    assert counts["accepted"]["RefuseConfirmation"] > 5


def test_a_soak_over_the_small_tree_reaches_runs_repairs_and_sign_off(small: Knowledge, walking: Any) -> None:
    counts = walking.soak(small, 12000, 9)
    wanted = {"set-up", "run", "run-over", "result", "held", "blocked", "part", "torque", "prove", "switch-off"}
    missing = wanted - set(counts["steps"])
    assert not missing
    assert counts["accepted"]["LeaveProofOpen"]
    accepted = counts["accepted"]
    for one in ("UseLayout", "CompareRate", "CompareDrive", "Advise", "CorrectFact", "TellRenewal", "TakeOwnRoute"):
        assert 0 < accepted[one] < counts["given"][one], one


@pytest.mark.parametrize("symptom", ["bearing-rumble", "shutdown-buzz"])
def test_a_walk_that_aims_at_a_timed_run_comes_to_one(
    shipped: Knowledge, walking: Any, symptom: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(walking, "AIMED", 1.0)
    only = shipped.model_copy(update={"trees": {symptom: shipped.trees[symptom]}})
    counts = walking.soak(only, 2400, 4)
    assert counts["accepted"]["StartRun"]
    assert counts["accepted"]["EndRun"]


def test_the_walk_would_see_a_layout_that_answers_a_check(walking: Any, small: Knowledge) -> None:
    session = at_the_running_check(walking, small)
    command = c.Advise(**session.base(), likely=())
    answered = session.state.findings | {"listen": next(iter(session.state.findings.values()))}
    for changed, complaint in (
        (replace(session.state, findings=answered), "answered a check"),
        (
            replace(
                session.state,
                maker={"overrun-free": MakerFigure(figure="overrun-free", value=1.0, text="1 N·m", reference="x")},
            ),
            "moved a limit",
        ),
        (replace(session.state, standing={}), "changed the step"),
    ):
        with pytest.raises(AssertionError, match=complaint):
            walking.explained_only(command, (), session.state, changed)
    walking.explained_only(command, (), session.state, session.state)


def at_the_running_check(walking: Any, small: Knowledge) -> Any:
    """A session at the running check, with everything confirmed."""
    session = walking.Session(small, "buzz")
    chances = random.Random(1)
    while session.state.step.kind != "check" or session.state.step.state != "running":
        step = session.state.step
        base = session.base()
        if step.kind == "check":
            check = small.checks[step.check]
            session.give(c.Answer(**base, check=check.id, outcomes=(check.outcomes[0].id,)))
        else:
            session.give(walking.sensible(chances, small, session.state, base))
    return session


def test_the_watcher_would_see_a_run_that_is_too_long(walking: Any, small: Knowledge) -> None:
    session = at_the_running_check(walking, small)
    session.watcher.look(session.now)
    with pytest.raises(AssertionError, match="has run for too long"):
        session.watcher.look(session.now._replace(clock_ms=session.now.clock_ms + 15 * 60 * 1000))


def test_the_watcher_would_see_a_check_that_came_without_its_set_up(
    walking: Any, small: Knowledge, clipped: Any
) -> None:
    clipped.answer("belt-look", "sound").answer("listen", "quiet").enter()
    told = [event for event in clipped.events if event.kind != "set-up-finished"]
    watch(walking.Watcher(small), list(clipped.events))
    with pytest.raises(AssertionError, match="is not set up"):
        watch(walking.Watcher(small), told)


def test_the_watcher_would_see_a_check_that_the_pulley_does_not_have(walking: Any, listening: Any) -> None:
    only = listening.knowledge.checks["listen"].model_copy(update={"only_for": ("decoupler",)})
    checks = {**listening.knowledge.checks, "listen": only}
    knowledge = listening.knowledge.model_copy(update={"checks": checks})
    with pytest.raises(AssertionError, match="for a one-way-clutch pulley"):
        watch(walking.Watcher(knowledge), list(listening.events))


@pytest.mark.parametrize("leave_out", ["thing-confirmed", "state-entered"])
def test_the_watcher_would_see_a_step_that_came_without_its_interlock(
    walking: Any, small: Knowledge, leave_out: str
) -> None:
    session = at_the_running_check(walking, small)
    told = [event for event in session.events if event.kind != leave_out or event.state != "running"]
    with pytest.raises(AssertionError, match=r"outside of|without"):
        watch(walking.Watcher(small), told)


def watch(watcher: Any, events: list[Any]) -> None:
    for event in events:
        watcher.see(event)
    watcher.look()


def test_the_soak_says_what_it_did(walking: Any, tmp_path: Path, monkeypatch: Any, capsys: Any) -> None:
    folder = Path(__file__).parent / "small"
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(
        "sys.argv", ["walk_commands", "--commands", "200", "--seed", "3", "--knowledge", str(folder), "--careless"]
    )
    assert walking.main() == 0
    assert "200 commands" in capsys.readouterr().out
