import json
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from tests.bench.whole_lines import whole_lines
from triage.app.reading import replay
from triage.app.resuming import resume
from triage.errors import TraceDamaged, TraceUnsafe
from triage.knowledge.shipped import demos_folder
from triage.store import Line
from triage.store.lines import encode

DEMO = demos_folder() / "worn-bearing.jsonl"


def sealed(path: Path, lines: Iterable[Line]) -> None:
    """Write lines with numbers and digests that fit."""
    digest = ""
    with path.open("wb") as file:
        for number, line in enumerate(lines, 1):
            raw, digest = encode(replace(line, seq=number), digest)
            file.write(raw)


def sealed_anew(path: Path, kind: str, change: Mapping[str, object]) -> None:
    """Write a demo with one event changed, every digest made to fit, and no mark left that would not."""
    unmarked = {"head": ""}
    lines = [
        replace(line, data={**line.data, **unmarked}) if "head" in line.data else line for line in whole_lines(DEMO)
    ]
    at = next(number for number, line in enumerate(lines) if line.kind == kind)
    lines[at] = replace(lines[at], data={**lines[at].data, **change})
    # The marks inside would tell of the edit first.
    sealed(path, (replace(line, data={**line.data, **({"head": ""} if "head" in line.data else {})}) for line in lines))


def stamp(line: Line) -> dict[str, object]:
    """What a line says of the clock that only goes forward."""
    return {key: line.data[key] for key in ("clock_ms", "boot")}


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
    with pytest.raises(TraceDamaged, match=r'names the [a-z ]*"stranger"'):
        replay(path)
    with pytest.raises(TraceDamaged, match=r'names the [a-z ]*"stranger"'):
        resume(path, lambda: 0, "Ana")
    assert path.read_bytes() == before


def test_a_trace_that_carries_what_its_knowledge_lacks_is_damaged(tmp_path: Path) -> None:
    path = tmp_path / "edited.jsonl"
    lines = list(whole_lines(DEMO))
    at = next(number for number, line in enumerate(lines) if line.kind == "thing-confirmed")
    carried = {**stamp(lines[at]), "state": "stopped", "since": {"parking-brake": 0, "stranger": 0}}
    sealed(path, [*lines[:at], replace(lines[at], kind="things-carried", data=carried)])
    with pytest.raises(TraceDamaged, match=r'names the [a-z ]*"stranger"'):
        replay(path)


@pytest.fixture
def running() -> list[Line]:
    """The lines of a demo up to a check with the engine running."""
    lines = list(whole_lines(DEMO))
    last = next(
        number
        for number, line in enumerate(lines)
        if line.kind == "step-offered"
        and '"state":"running"' in json.dumps(line.data, separators=(",", ":"))
        and '"kind":"check"' in json.dumps(line.data, separators=(",", ":"))
    )
    return lines[: last + 1]


def after(line: Line, kind: str, **data: object) -> Line:
    """Another line at the time of one."""
    return replace(line, kind=kind, data={**stamp(line), **data})


def test_a_trace_cut_right_behind_its_pause_never_shows_the_running_step_of_before(
    tmp_path: Path, running: list[Line]
) -> None:
    path = tmp_path / "cut.jsonl"
    lapse = after(running[-1], "interlock-lapsed", state="running", because="paused")
    sealed(path, [*running, lapse, after(running[-1], "session-paused")])
    job, _ = resume(path, lambda: running[-1].at_ms, "Ana")
    job.leave()
    assert job.state.step.kind == "paused"


def test_a_pause_put_in_behind_a_running_step_makes_a_trace_that_can_only_be_read(
    tmp_path: Path, running: list[Line]
) -> None:
    path = tmp_path / "edited.jsonl"
    sealed(path, [*running, after(running[-1], "session-paused")])
    before = path.read_bytes()
    with pytest.raises(TraceUnsafe, match=rf"Line {len(running) + 1} leaves standing what was confirmed before"):
        resume(path, lambda: running[-1].at_ms, "Ana")
    assert path.read_bytes() == before
    assert any("cannot be gone on with" in notice for notice in replay(path).notices)
    assert path.read_bytes() == before
