"""The demo traces: kept as they were written, sound, replayed and shown."""

import json
from pathlib import Path

import pytest

from triage.app.reading import replay
from triage.app.tracing import to_events, to_lines
from triage.knowledge.shipped import demos_folder
from triage.present.pages.session_page import page_of
from triage.record.events import StepOffered
from triage.session.audit import objections
from triage.session.evolving import fold
from triage.store import read_trace, verify_trace

HEADS = {"binding-clutch": "484-5c69523b15b6", "worn-bearing": "290-b457f3c5696a"}
DEMOS = sorted(demos_folder().glob("*.jsonl"))


def test_two_demos_ship() -> None:
    assert [demo.stem for demo in DEMOS] == list(HEADS)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_a_demo_is_as_it_was_written_and_sound_and_ends_signed_off(demo: Path) -> None:
    assert verify_trace(demo) == []
    knowledge, events, head, notices = replay(demo)
    assert str(head) == HEADS[demo.stem]
    assert fold(events).closed == "signed-off"
    assert notices == ()
    assert "signed-off" in page_of(knowledge, events, str(head))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_a_running_check_is_only_offered_with_its_interlock_live(demo: Path) -> None:
    _, events, _, _ = replay(demo)
    assert list(objections(events)) == []
    offered = [event for event in events if isinstance(event, StepOffered) and event.step.state == "running"]
    assert any(event.step.kind == "check" for event in offered)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_every_line_is_written_again_as_it_stands(demo: Path) -> None:
    trace = read_trace(demo)
    again = to_lines(to_events(trace.lines, trace.knowledge), 1)
    # The first names the knowledge by its digest, whose keys may have come and gone since.
    for before, after in zip(trace.lines[1:], again[1:], strict=True):
        assert json.dumps(after.data) == json.dumps(before.data)
        assert (after.kind, after.version, after.who) == (before.kind, before.version, before.who)
