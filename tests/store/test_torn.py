import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from triage.errors import StoreUnavailable
from triage.store import Line, TraceWriter, list_traces, read_trace, verify_trace

LineMaker = Callable[..., Line]
TraceMaker = Callable[..., Path]


def test_a_line_torn_at_any_byte_is_set_aside_and_the_session_goes_on(trace: TraceMaker, line: LineMaker) -> None:
    path = trace(3)
    whole = path.read_bytes()
    last = whole.rindex(b"\n", 0, -1) + 1
    for number, end in enumerate(range(last + 1, len(whole) - 1), 1):
        path.write_bytes(whole[:end])
        writer, lines, notices = TraceWriter.reopen(path)
        writer.append([line(3, text="again")])
        writer.close()
        assert len(lines) == 2
        assert notices[0].startswith("Line 3 is torn")
        aside = path.with_name(f"job.jsonl.torn-{number}")
        assert aside.name in notices[1]
        assert aside.read_bytes() == whole[last:end]
        assert verify_trace(path) == []
    assert [summary.path for summary in list_traces(path.parent)] == [path]


def test_what_is_set_aside_is_its_owners_alone(trace: TraceMaker) -> None:
    path = trace(2)
    os.truncate(path, path.stat().st_size - 9)
    TraceWriter.reopen(path)[0].close()
    assert path.with_name("job.jsonl.torn-1").stat().st_mode & 0o777 == 0o600


def test_a_lost_line_end_is_put_back_and_no_answer_is_lost(trace: TraceMaker, line: LineMaker) -> None:
    path = trace(3)
    whole = path.read_bytes()
    path.write_bytes(whole[:-1])
    writer, lines, notices = TraceWriter.reopen(path)
    assert (len(lines), path.read_bytes()) == (3, whole)
    assert "line end was put back" in notices[1]
    writer.append([line(4)])
    writer.close()
    assert read_trace(path).head.count == 4


def test_a_disk_too_full_to_set_the_line_aside_leaves_everything_as_it_was(
    trace: TraceMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = trace(3)
    os.truncate(path, path.stat().st_size - 9)
    torn = path.read_bytes()

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, "full")

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        with pytest.raises(StoreUnavailable, match="cannot be resumed: the disk is full"):
            TraceWriter.reopen(path)
    assert path.read_bytes() == torn
    assert list(path.parent.iterdir()) == [path]
    TraceWriter.reopen(path)[0].close()


def test_stopped_between_copy_and_cut_there_are_two_copies_and_not_none(
    trace: TraceMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = trace(3)
    os.truncate(path, path.stat().st_size - 9)
    torn = path.read_bytes()

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(os, "ftruncate", stop)
        with pytest.raises(KeyboardInterrupt):
            TraceWriter.reopen(path)
    assert path.read_bytes() == torn
    TraceWriter.reopen(path)[0].close()
    first, second = (path.with_name(f"job.jsonl.torn-{number}").read_bytes() for number in (1, 2))
    assert first == second
    assert torn.endswith(first)
