import os
from collections.abc import Callable
from pathlib import Path

import pytest

from triage.errors import EXIT_FILE, StoreUnavailable, TraceDamaged
from triage.store import FaultKind, Head, TraceWriter, list_traces, read_trace, verify_trace

TraceMaker = Callable[..., Path]


def edit(path: Path, old: str, new: str) -> None:
    content = path.read_bytes()
    assert old.encode() in content
    path.write_bytes(content.replace(old.encode(), new.encode()))


def test_a_sound_trace_is_read_whole(trace: TraceMaker) -> None:
    path = trace(3)
    found = read_trace(path)
    assert [line.data["text"] for line in found.lines] == ["né 1", "né 2", "né 3"]
    assert (found.path, found.head.count, found.notices) == (path, 3, ())
    assert verify_trace(path) == []


def test_a_changed_trace_is_refused_with_its_first_line_and_what_to_do(trace: TraceMaker) -> None:
    path = trace(5)
    edit(path, "né 2", "no 2")
    edit(path, "né 4", "no 4")
    with pytest.raises(TraceDamaged, match=r"job.jsonl is damaged. Line 2 .* first of 2 faults.") as caught:
        read_trace(path)
    assert "backup" in caught.value.hint
    assert caught.value.exit_code == EXIT_FILE


def test_a_foreign_format_asks_for_another_version_of_the_program(trace: TraceMaker) -> None:
    path = trace(2)
    edit(path, '"format":1', '"format":3')
    with pytest.raises(TraceDamaged, match="Line 1 names trace format 3; this program knows 1 and 2") as caught:
        read_trace(path)
    assert "version of triage" in caught.value.hint
    assert verify_trace(path)[0].kind is FaultKind.FOREIGN_FORMAT


def test_a_torn_line_is_left_alone_and_said(trace: TraceMaker) -> None:
    path = trace(3)
    os.truncate(path, path.stat().st_size - 20)
    content = path.read_bytes()
    found = read_trace(path)
    assert len(found.lines) == 2
    assert found.notices[0].startswith("Line 3 is torn")
    assert path.read_bytes() == content


def test_lost_last_lines_are_named_when_the_head_is_known(trace: TraceMaker) -> None:
    path = trace(5)
    head = Head.parse(str(read_trace(path).head))
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:2]))
    assert verify_trace(path) == []
    assert [fault.kind for fault in verify_trace(path, head)] == [FaultKind.CUT_OFF]


def test_a_torn_end_and_lost_lines_are_both_named(trace: TraceMaker) -> None:
    path = trace(5)
    head = read_trace(path).head
    os.truncate(path, path.stat().st_size - 20)
    assert [fault.kind for fault in verify_trace(path, head)] == [FaultKind.TORN, FaultKind.CUT_OFF]


def test_the_head_is_not_compared_with_a_damaged_trace(trace: TraceMaker) -> None:
    path = trace(5)
    edit(path, "né 5", "no 5")
    assert [fault.kind for fault in verify_trace(path, Head(9, "0" * 12))] == [FaultKind.CHANGED]


def test_a_trace_can_be_read_while_it_is_written(trace: TraceMaker) -> None:
    path = trace(3)
    writer, lines, _ = TraceWriter.reopen(path)
    assert read_trace(path).lines == lines
    # A lock that belongs to the process would be gone now.
    with pytest.raises(StoreUnavailable, match="elsewhere"):
        TraceWriter.reopen(path)
    writer.close()


def test_what_is_not_there_or_no_file_is_said_in_a_sentence(tmp_path: Path, trace: TraceMaker) -> None:
    (tmp_path / "link.jsonl").symlink_to(trace(1))
    with pytest.raises(StoreUnavailable, match=r"none.jsonl cannot be read: it is not there\."):
        read_trace(tmp_path / "none.jsonl")
    for path in (tmp_path / "link.jsonl", tmp_path):
        with pytest.raises(StoreUnavailable, match="not an ordinary file"):
            verify_trace(path)


def test_a_damaged_trace_blocks_no_other(trace: TraceMaker) -> None:
    bad, good = trace(3, "bad"), trace(3, "good")
    bad.write_bytes(b"\x00\xff{" * 1000)
    assert read_trace(good).head.count == 3
    assert {summary.path.stem: bool(summary.fault) for summary in list_traces(good.parent)} == {
        "bad": True,
        "good": False,
    }
