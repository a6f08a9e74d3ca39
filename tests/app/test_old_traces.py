"""Recorded traces of every format version. They are never edited: what was saved once stays readable."""

from pathlib import Path

import pytest

from triage.app.reading import replay
from triage.present.pages.session_page import page_of
from triage.session.evolving import fold
from triage.store import verify_trace

HEADS = {
    "format-1-worn-bearing": "248-49e6db16b193",
    "format-1-binding-clutch": "349-46b45854c9f5",
}


@pytest.mark.parametrize("name", HEADS)
def test_a_trace_of_an_older_format_is_read_and_shown(name: str) -> None:
    path = Path(__file__).parent / "traces" / f"{name}.jsonl"
    assert verify_trace(path) == []
    knowledge, events, head, _ = replay(path)
    assert str(head) == HEADS[name]
    assert fold(events).closed == "signed-off"
    assert "signed-off" in page_of(knowledge, events, str(head))
