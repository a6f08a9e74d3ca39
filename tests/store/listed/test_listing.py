import json
import os
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from triage.errors import StoreUnavailable
from triage.store import Line, Summary, TraceWriter, kept_folder, list_traces, read_trace
from triage.store.kept import keep
from triage.store.listed import listing
from triage.store.listed.glance import glance

LineMaker = Callable[..., Line]
TraceMaker = Callable[..., Path]


def save(folder: Path, name: str, *lines: Line) -> Path:
    with closing(TraceWriter.create(folder, name)) as writer:
        writer.append(lines)
    return writer.path


@pytest.fixture
def looked_at(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The traces that are looked at from here on."""
    names: list[str] = []

    def look(path: Path) -> Summary:
        names.append(path.stem)
        return glance(path)

    monkeypatch.setattr(listing, "glance", look)
    return names


def test_a_folder_that_is_not_there_has_no_traces(tmp_path: Path) -> None:
    assert list_traces(tmp_path / "none") == []


def test_a_folder_that_cannot_be_read_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(StoreUnavailable, match="not a folder"):
        list_traces(tmp_path / "file")


def test_each_trace_shows_its_first_and_last_line_and_the_latest_comes_first(trace: TraceMaker, tmp_path: Path) -> None:
    for count in (1, 5, 3):
        trace(count, f"job-{count}")
    found = list_traces(tmp_path)
    assert [summary.count for summary in found] == [5, 3, 1]
    for summary in found:
        last = read_trace(summary.path).lines[-1]
        assert (summary.saved_ms, summary.count, summary.fault) == (last.at_ms, last.seq, "")


def test_job_symptom_and_what_is_left_to_do_come_from_the_first_and_the_last_line(
    tmp_path: Path, line: LineMaker
) -> None:
    for kind, now in (("check", "open"), ("paused", "paused"), ("closed", "closed")):
        save(tmp_path, kind, line(1, job="J-7", symptom="chirp"), line(2, step={"kind": kind}))
        assert {one.path.stem: one for one in list_traces(tmp_path)}[kind].now == now
    assert {(one.job, one.symptom) for one in list_traces(tmp_path)} == {("J-7", "chirp")}


@pytest.mark.parametrize("sizes", [(10,), (300_000,), (300_000, 10), (10, 300_000), (300_000, 300_000), (10, 65_000)])
def test_long_lines_are_found_from_the_end(sizes: tuple[int, ...], tmp_path: Path, line: LineMaker) -> None:
    path = save(tmp_path, "job", *(line(seq, text="x" * size) for seq, size in enumerate(sizes, 1)))
    (summary,) = list_traces(tmp_path)
    last = read_trace(path).lines[-1]
    assert (summary.saved_ms, summary.count, summary.fault) == (last.at_ms, last.seq, "")


def test_a_torn_end_shows_the_line_before_it_and_no_fault(trace: TraceMaker) -> None:
    path = trace(3)
    whole = path.read_bytes()
    for cut in range(1, 60):
        path.write_bytes(whole[:-cut])
        (summary,) = list_traces(path.parent)
        assert (summary.count, summary.fault) == (3 if cut == 1 else 2, "")


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "Nothing was ever saved in it."),
        (b"\n", "Line 1 does not end in its digest."),
        (b'{"seq":1', "Line 1 does not end in its digest."),
        (b"x" * (9 << 20), "Line 1 is longer than 8 MiB."),
    ],
)
def test_a_file_that_does_not_begin_like_a_trace_is_listed_with_its_fault(
    content: bytes, fault: str, tmp_path: Path
) -> None:
    (tmp_path / "bad.jsonl").write_bytes(content)
    (summary,) = list_traces(tmp_path)
    assert (summary.fault, summary.saved_ms, summary.count) == (fault, 0, 0)


def test_an_end_without_a_line_is_a_fault(trace: TraceMaker) -> None:
    path = trace(2)
    path.write_bytes(path.read_bytes() + b"x" * (40 << 20))
    (summary,) = list_traces(path.parent)
    assert (bool(summary.fault), summary.count) == (True, 0)
    path.write_bytes(path.read_bytes()[:2000] + b"\n{}\n")
    assert list_traces(path.parent)[0].fault == "The last line does not end in its digest."


def test_a_changed_first_line_and_a_lost_one_show_at_a_glance(trace: TraceMaker) -> None:
    path = trace(3)
    whole = path.read_bytes()
    for content in (whole.replace(b"Ann", b"Bob", 1), whole[whole.index(b"\n") + 1 :]):
        path.write_bytes(content)
        assert "Line 1 was changed" in list_traces(path.parent)[0].fault


def test_only_ordinary_files_of_the_right_name_are_traces(trace: TraceMaker, tmp_path: Path) -> None:
    path = trace(1)
    (tmp_path / "job.jsonl.torn-1").write_bytes(b"{")
    (tmp_path / ".hidden.jsonl").write_bytes(b"{")
    (tmp_path / "folder.jsonl").mkdir()
    (tmp_path / "link.jsonl").symlink_to(path)
    assert [summary.path for summary in list_traces(tmp_path)] == [path]


def test_a_file_that_cannot_be_read_is_listed_with_the_reason(
    trace: TraceMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = trace(1)

    def deny(*_: object) -> int:
        raise PermissionError(13, "no")

    monkeypatch.setattr(os, "open", deny)
    (summary,) = list_traces(path.parent)
    assert summary.fault == "job.jsonl cannot be read: permission is denied."


def test_a_second_look_opens_no_trace(trace: TraceMaker, tmp_path: Path, looked_at: list[str]) -> None:
    for number in range(3):
        trace(2, f"job-{number}")
    before = list_traces(tmp_path)
    assert looked_at == ["job-0", "job-1", "job-2"]
    assert list_traces(tmp_path) == before
    assert len(looked_at) == 3


def test_only_what_has_changed_is_looked_at_anew(
    trace: TraceMaker, tmp_path: Path, line: LineMaker, looked_at: list[str]
) -> None:
    paths = [trace(2, f"job-{number}") for number in range(3)]
    list_traces(tmp_path)
    looked_at.clear()
    writer, _, _ = TraceWriter.reopen(paths[1])
    writer.append([line(3)])
    writer.close()
    paths[0].rename(tmp_path / "other.jsonl")
    paths[2].unlink()
    assert [(one.path.stem, one.count) for one in list_traces(tmp_path)] == [("job-1", 3), ("other", 2)]
    assert looked_at == ["job-1", "other"]


def test_a_trace_of_the_same_size_and_another_time_is_looked_at_anew(
    trace: TraceMaker, tmp_path: Path, looked_at: list[str]
) -> None:
    path = trace(2)
    list_traces(tmp_path)
    os.utime(path, ns=(1, path.stat().st_mtime_ns + 1))
    list_traces(tmp_path)
    assert looked_at == ["job", "job"]


def test_a_damaged_trace_is_looked_at_each_time(trace: TraceMaker, tmp_path: Path, looked_at: list[str]) -> None:
    trace(2)
    (tmp_path / "bad.jsonl").write_bytes(b"{")
    assert list_traces(tmp_path) == list_traces(tmp_path)
    assert looked_at == ["bad", "job", "bad"]


@pytest.mark.parametrize(
    "rows",
    [
        None,
        {},
        [1],
        [[]],
        [["job.jsonl", 1, 2, "j", "s", 3, 4]],
        [["job.jsonl", 1, 2, "j", "s", 3, 4, "lost"]],
        [["job.jsonl", 1, True, "j", "s", 3, 4, "open"]],
        [["job.jsonl", 1, 2, "j", None, 3, 4, "open"]],
    ],
)
def test_an_index_of_another_shape_is_made_anew(
    trace: TraceMaker, tmp_path: Path, looked_at: list[str], rows: object
) -> None:
    trace(2)
    keep(kept_folder(tmp_path) / "sessions.json", listing._ORIGIN, json.dumps(rows).encode())
    before = list_traces(tmp_path)
    assert [one.count for one in before] == [2]
    assert list_traces(tmp_path) == before
    assert looked_at == ["job"]


def test_a_broken_index_is_made_anew(trace: TraceMaker, tmp_path: Path, looked_at: list[str]) -> None:
    trace(2)
    before = list_traces(tmp_path)
    index = kept_folder(tmp_path) / "sessions.json"
    index.write_bytes(index.read_bytes()[:-1])
    assert list_traces(tmp_path) == list_traces(tmp_path) == before
    assert looked_at == ["job", "job"]


def test_where_no_index_can_be_kept_the_list_is_the_same(trace: TraceMaker, tmp_path: Path) -> None:
    trace(2)
    kept_folder(tmp_path).write_text("no folder")
    assert [one.count for one in list_traces(tmp_path)] == [2]


def test_the_knowledge_in_a_first_line_is_not_read_for_a_list(
    tmp_path: Path, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = line(1, job='7,"knowledge":{', symptom="chirp", knowledge={"trees": {"x": "y" * 300_000}})
    save(tmp_path, "job", first, line(2))
    read: list[int] = []
    loads = json.loads

    def counted(text: str, **more: Any) -> object:
        read.append(len(text))
        return loads(text, **more)

    with monkeypatch.context() as counting:
        counting.setattr(json, "loads", counted)
        (summary,) = list_traces(tmp_path)
    assert (summary.job, summary.symptom, summary.count) == ('7,"knowledge":{', "chirp", 2)
    assert max(read) < 1000


def test_a_first_line_in_which_something_else_is_called_knowledge_is_read_whole(
    tmp_path: Path, line: LineMaker
) -> None:
    first = line(1, tools={"a": {}, "knowledge": {"b": {}}}, job="7", symptom="chirp")
    save(tmp_path, "job", first, line(2))
    (summary,) = list_traces(tmp_path)
    assert (summary.job, summary.symptom, summary.fault) == ("7", "chirp", "")


def test_programs_that_list_at_once_do_not_disturb_each_other(trace: TraceMaker, tmp_path: Path) -> None:
    raised: list[BaseException] = []

    def list_often() -> None:
        try:
            for _ in range(15):
                list_traces(tmp_path)
        except BaseException as error:
            raised.append(error)

    several = [threading.Thread(target=list_often) for _ in range(4)]
    for thread in several:
        thread.start()
    for number in range(15):
        trace(2, f"job-{number}")
    for thread in several:
        thread.join()
    assert raised == []
    assert [one.path.stem for one in list_traces(tmp_path)] == sorted(f"job-{number}" for number in range(15))
