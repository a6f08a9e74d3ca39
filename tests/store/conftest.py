"""Small traces to work on."""

from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from triage.store import Line, TraceWriter

LineMaker = Callable[..., Line]
TraceMaker = Callable[..., Path]


@pytest.fixture
def line() -> LineMaker:
    """A line by its number; the first one names the format."""

    def make(seq: int, **data: object) -> Line:
        opening = {"format": 1} if seq == 1 else {}
        return Line(seq, 1_767_225_600_000 + 250 * seq, "Ann", "note-made", 1, opening | data)

    return make


@pytest.fixture
def trace(tmp_path: Path, line: LineMaker) -> TraceMaker:
    """A closed trace of so many lines."""

    def make(count: int, name: str = "job") -> Path:
        with closing(TraceWriter.create(tmp_path, name)) as writer:
            writer.append([line(seq, text=f"né {seq}") for seq in range(1, count + 1)])
        return tmp_path / f"{name}.jsonl"

    return make
