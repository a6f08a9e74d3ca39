"""The demo traces: sound, replayed to the same state, and what the program writes today."""

from pathlib import Path

import make_demos
import pytest

from triage.app.reading import replay
from triage.knowledge.shipped import demos_folder
from triage.record.events import StepOffered
from triage.session.evolving import evolve, fold
from triage.session.state import State
from triage.store import verify_trace

DEMOS = sorted(demos_folder().glob("*.jsonl"))


def test_two_demos_ship() -> None:
    assert [demo.stem for demo in DEMOS] == ["binding-clutch", "worn-bearing"]


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_a_demo_is_sound_and_ends_signed_off(demo: Path) -> None:
    assert verify_trace(demo) == []
    _, events, _, _ = replay(demo)
    assert fold(events).closed == "signed-off"


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_a_running_check_is_only_offered_with_its_interlock_live(demo: Path) -> None:
    knowledge, events, _, _ = replay(demo)
    state = State()
    offered = 0
    for event in events:
        state = evolve(state, event)
        if isinstance(event, StepOffered) and event.step.kind in ("check", "run"):
            vehicle = knowledge.states.get(event.step.state)
            if vehicle and vehicle.engine == "running":
                offered += 1
                assert state.live is not None
                assert state.live.entered
                assert state.live.state == vehicle.id
    assert offered > 0


def test_the_demos_are_what_the_program_writes_today(tmp_path: Path) -> None:
    make_demos.worn_bearing(tmp_path)
    make_demos.binding_clutch(tmp_path)
    for demo in DEMOS:
        made = replay(tmp_path / demo.name)
        kept = replay(demo)
        assert [event.model_dump(exclude={"knowledge", "likely", "unlikely"}) for event in made[1]] == [
            event.model_dump(exclude={"knowledge", "likely", "unlikely"}) for event in kept[1]
        ]
