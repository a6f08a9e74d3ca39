from collections.abc import Mapping
from pathlib import Path

import pytest

from triage.app.job import replay, resume
from triage.errors import TraceDamaged
from triage.knowledge.shipped import demos_folder
from triage.store import Line, read_trace
from triage.store.lines import encode

DEMO = demos_folder() / "worn-bearing.jsonl"


def sealed_anew(path: Path, kind: str, change: Mapping[str, object]) -> None:
    """Write a demo with one event changed and every digest made to fit."""
    digest, done = "", False
    with path.open("wb") as file:
        for line in read_trace(DEMO).lines:
            changed = {**line.data, **change} if line.kind == kind and not done else line.data
            done = done or line.kind == kind
            raw, digest = encode(Line(line.seq, line.at_ms, line.who, line.kind, line.version, changed), digest)
            file.write(raw)
    assert done


@pytest.mark.parametrize(
    ("kind", "change"),
    [
        ("session-started", {"symptom": "stranger"}),
        ("check-answered", {"check": "stranger"}),
        ("reading-taken", {"check": "stranger"}),
        ("state-entered", {"state": "stranger"}),
        ("conclusion-reached", {"causes": ["stranger"]}),
        ("remedy-begun", {"remedies": ["stranger"]}),
    ],
)
def test_a_trace_that_names_what_its_knowledge_lacks_is_damaged(
    tmp_path: Path, kind: str, change: Mapping[str, object]
) -> None:
    path = tmp_path / "edited.jsonl"
    sealed_anew(path, kind, change)
    before = path.read_bytes()
    with pytest.raises(TraceDamaged, match='names "stranger"'):
        replay(path)
    with pytest.raises(TraceDamaged, match='names "stranger"'):
        resume(path, lambda: 0, "Ana")
    assert path.read_bytes() == before
