import os
from collections.abc import Callable
from pathlib import Path

import pytest

from triage.errors import StoreUnavailable
from triage.store import Line, TraceWriter, data_folder, list_traces, read_trace, shop_file_path

LineMaker = Callable[..., Line]
TraceMaker = Callable[..., Path]


def test_a_shop_may_name_its_own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    assert data_folder() == tmp_path
    assert shop_file_path().parent == tmp_path


def test_a_relative_folder_does_not_move_with_the_program(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TRIAGE_HOME", "jobs")
    assert data_folder() == tmp_path / "jobs"


@pytest.mark.skipif(os.name == "nt", reason="Windows asks its registry")
@pytest.mark.parametrize("home", [None, ""])
def test_otherwise_the_operating_system_says_where(
    home: str | None, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("TRIAGE_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    if home is not None:
        monkeypatch.setenv("TRIAGE_HOME", home)
    assert data_folder().name == "triage"
    assert tmp_path in data_folder().parents


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
        lines = read_trace(summary.path).lines
        assert (summary.first, summary.last, summary.fault) == (lines[0], lines[-1], "")


@pytest.mark.parametrize("sizes", [(10,), (300_000,), (300_000, 10), (10, 300_000), (300_000, 300_000), (10, 65_000)])
def test_long_lines_are_found_from_the_end(sizes: tuple[int, ...], tmp_path: Path, line: LineMaker) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(seq, text="x" * size) for seq, size in enumerate(sizes, 1)])
    writer.close()
    (summary,) = list_traces(tmp_path)
    assert summary.last == read_trace(summary.path).lines[-1]


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
    assert (summary.fault, summary.first, summary.count) == (fault, None, 0)


def test_an_end_without_a_line_is_a_fault(trace: TraceMaker) -> None:
    path = trace(2)
    path.write_bytes(path.read_bytes() + b"x" * (40 << 20))
    (summary,) = list_traces(path.parent)
    assert (bool(summary.fault), summary.last) == (True, None)
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
