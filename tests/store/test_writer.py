import errno
import os
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

import triage
from triage.errors import StoreUnavailable, TraceDamaged
from triage.store import Line, NameTaken, TraceWriter, read_trace, verify_trace

LineMaker = Callable[..., Line]
TraceMaker = Callable[..., Path]

SECOND_WRITER = """
import sys
from pathlib import Path
from triage.errors import StoreUnavailable
from triage.store import TraceWriter
try:
    TraceWriter.reopen(Path(sys.argv[1]))
except StoreUnavailable as error:
    sys.exit(str(error))
"""


def failing(code: int) -> Callable[..., Any]:
    def fail(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    return fail


def filling_up(room_bytes: int) -> Callable[[int, Any], int]:
    """A disk with so much room: it takes what fits, then nothing more."""
    write, room = os.write, [room_bytes]

    def take(handle: int, content: Any) -> int:
        if not room[0]:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        taken = write(handle, bytes(content)[: room[0]])
        room[0] -= taken
        return taken

    return take


def run_second_writer(path: Path) -> "subprocess.CompletedProcess[str]":
    environment = {**os.environ, "PYTHONPATH": str(Path(triage.__file__).parents[1])}
    command = [sys.executable, "-c", SECOND_WRITER, str(path)]
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=60)


def test_lines_are_saved_and_come_back_with_the_head(tmp_path: Path, line: LineMaker) -> None:
    with closing(TraceWriter.create(tmp_path / "new" / "deep", "job")) as writer:
        writer.append([line(1), line(2)])
        writer.append([])
        writer.append([line(3)])
        head = writer.head
    found = read_trace(writer.path)
    assert (found.lines, found.head) == ((line(1), line(2), line(3)), head)


def test_file_and_folder_are_their_owners_alone(tmp_path: Path, line: LineMaker) -> None:
    with closing(TraceWriter.create(tmp_path / "new", "job")) as writer:
        writer.append([line(1)])
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o700
    assert writer.path.stat().st_mode & 0o777 == 0o600


def test_every_line_is_one_write_and_on_the_disk_before_append_returns(
    tmp_path: Path, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    calls: list[str] = []

    def noting(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def note(*args: object) -> Any:
            calls.append(name)
            return call(*args)

        return note

    for name in ("write", "fsync"):
        monkeypatch.setattr(os, name, noting(name, getattr(os, name)))
    writer.append([line(1), line(2)])
    assert calls == ["write", "write", "fsync"]
    writer.close()


def test_a_trace_is_never_replaced(trace: TraceMaker) -> None:
    path = trace(2)
    with pytest.raises(NameTaken, match="a session job already"):
        TraceWriter.create(path.parent, "job")
    assert read_trace(path).head.count == 2


def test_a_trace_without_a_line_leaves_no_file(tmp_path: Path) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.close()
    writer.close()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name",
    ["", ".", "..", ".hidden", "a/b", "a\\b", "a.", "-a", "a b", "ä", "a\n", "con", "NUL.x", "Com1", "x" * 101, "a\0"],
)
def test_a_name_that_some_system_refuses_is_refused_everywhere(name: str, tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailable, match="name of a trace"):
        TraceWriter.create(tmp_path, name)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["a", "R-1042_2026.01", "console", "x" * 100])
def test_ordinary_names_are_taken(name: str, tmp_path: Path, line: LineMaker) -> None:
    with closing(TraceWriter.create(tmp_path, name)) as writer:
        writer.append([line(1)])
    assert [path.name for path in tmp_path.iterdir()] == [f"{name}.jsonl"]


@pytest.mark.parametrize(
    ("code", "reason"),
    [(errno.EACCES, "permission is denied"), (errno.EROFS, "read-only"), (errno.ENOSPC, "full")],
)
def test_a_folder_that_cannot_be_written_is_said(
    code: int, reason: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, "open", failing(code))
        with pytest.raises(StoreUnavailable, match=reason):
            TraceWriter.create(tmp_path, "job")


def test_a_folder_that_is_a_file_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(StoreUnavailable, match="something of that name is there already") as refused:
        TraceWriter.create(tmp_path / "file", "job")
    assert not isinstance(refused.value, NameTaken)
    with pytest.raises(StoreUnavailable, match="not a folder"):
        TraceWriter.create(tmp_path / "file" / "in", "job")


def test_a_folder_that_cannot_be_flushed_gets_no_trace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", failing(errno.EIO))
        with pytest.raises(StoreUnavailable, match="the disk reports a fault"):
            TraceWriter.create(tmp_path, "job")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("code", [errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS])
def test_a_file_system_without_locks_is_refused_with_the_way_out(
    code: int, tmp_path: Path, trace: TraceMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    old, before = trace(1), list(tmp_path.iterdir())
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(fcntl, "flock", failing(code))
    for begin in (lambda: TraceWriter.create(tmp_path, "other"), lambda: TraceWriter.reopen(old)):
        with pytest.raises(StoreUnavailable) as refused:
            begin()
        assert f"{tmp_path} keeps no locks" in refused.value.message
        assert "TRIAGE_HOME" in refused.value.hint
        assert "permission" not in str(refused.value)
    assert list(tmp_path.iterdir()) == before


def test_a_fault_of_the_disk_at_the_lock_is_told_as_such(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(fcntl, "flock", failing(errno.EIO))
    with pytest.raises(StoreUnavailable, match="the disk reports a fault"):
        TraceWriter.create(tmp_path, "job")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps no such rights")
def test_every_folder_that_is_made_is_its_owners_alone_and_the_others_stay(tmp_path: Path, line: LineMaker) -> None:
    (tmp_path / "there").mkdir(mode=0o755)
    with closing(TraceWriter.create(tmp_path / "there" / "new" / "deep", "job")) as writer:
        writer.append([line(1)])
    folders = [tmp_path / "there", tmp_path / "there" / "new", tmp_path / "there" / "new" / "deep"]
    assert [folder.stat().st_mode & 0o777 for folder in folders] == [0o755, 0o700, 0o700]


def test_a_disk_that_fills_up_at_any_byte_keeps_nothing_half_written(tmp_path: Path, line: LineMaker) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1)])
    before = writer.path.read_bytes()
    head = writer.head
    batch = [line(2, text="é"), line(3)]
    for room_bytes in range(300):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(os, "write", filling_up(room_bytes))
            with pytest.raises(StoreUnavailable, match=r"cannot be saved in job\.jsonl: the disk is full") as caught:
                writer.append(batch)
        assert "Everything before it is saved" in caught.value.hint
        assert (writer.path.read_bytes(), writer.head) == (before, head)
    writer.append(batch)
    writer.close()
    assert [kept.seq for kept in read_trace(writer.path).lines] == [1, 2, 3]


@pytest.mark.parametrize(("call", "code"), [("fsync", errno.EIO), ("write", errno.EROFS), ("write", errno.EDQUOT)])
def test_a_disk_that_fails_in_another_way_is_said_and_the_writer_goes_on(
    call: str, code: int, tmp_path: Path, line: LineMaker
) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1)])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, call, failing(code))
        with pytest.raises(StoreUnavailable, match="cannot be saved"):
            writer.append([line(2, text="lost")])
    writer.append([line(2, text="kept")])
    writer.close()
    assert [kept.data.get("text") for kept in read_trace(writer.path).lines] == [None, "kept"]


def test_nothing_is_written_behind_leftovers_that_cannot_be_cut_off(tmp_path: Path, line: LineMaker) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1)])
    before = writer.path.read_bytes()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "write", filling_up(40))
        patch.setattr(os, "ftruncate", failing(errno.EROFS))
        with pytest.raises(StoreUnavailable, match="full"):
            writer.append([line(2)])
        patch.undo()
        patch.setattr(os, "ftruncate", failing(errno.EROFS))
        with pytest.raises(StoreUnavailable, match="cannot be mended"):
            writer.append([line(2)])
        assert len(writer.path.read_bytes()) == len(before) + 40
    writer.append([line(2)])
    writer.close()
    assert verify_trace(writer.path) == []


def test_closing_cuts_leftovers_off(tmp_path: Path, line: LineMaker) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1)])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "write", filling_up(40))
        patch.setattr(os, "ftruncate", failing(errno.EROFS))
        with pytest.raises(StoreUnavailable):
            writer.append([line(2)])
    writer.close()
    assert verify_trace(writer.path) == []


@pytest.mark.parametrize("call", ["write", "fsync"])
def test_an_interrupt_while_saving_leaves_no_line_that_was_not_acknowledged(
    call: str, tmp_path: Path, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1)])
    before = writer.path.read_bytes()
    original = getattr(os, call)
    calls: list[object] = []

    def interrupted(*args: object) -> object:
        result = original(*args)
        calls.append(args)
        if len(calls) == 1:
            raise KeyboardInterrupt
        return result

    monkeypatch.setattr(os, call, interrupted)
    with pytest.raises(KeyboardInterrupt):
        writer.append([line(2), line(3)])
    assert writer.path.read_bytes() == before
    writer.append([line(2)])
    writer.close()
    assert verify_trace(writer.path) == []


def test_a_line_that_cannot_be_saved_takes_the_whole_answer_with_it(tmp_path: Path, line: LineMaker) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1)])
    with pytest.raises(StoreUnavailable, match="line 3 holds half of a character"):
        writer.append([line(2), line(3, text="\ud800")])
    writer.append([line(2)])
    writer.close()
    assert read_trace(writer.path).head.count == 2


def test_a_number_that_does_not_follow_is_a_defect(tmp_path: Path, line: LineMaker) -> None:
    writer = TraceWriter.create(tmp_path, "job")
    for wrong in ([line(2)], [line(1), line(3)], [line(1), line(1)]):
        with pytest.raises(ValueError, match="cannot follow"):
            writer.append(wrong)
    assert writer.path.read_bytes() == b""
    writer.close()


def test_a_full_trace_takes_no_more_and_says_so(
    tmp_path: Path, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("triage.store.writer.TRACE_LIMIT_BYTES", 1 << 20)
    writer = TraceWriter.create(tmp_path, "job")
    writer.append([line(1, text="x" * 900_000)])
    with pytest.raises(StoreUnavailable, match=r"job\.jsonl is full: a trace has at most 1 MiB"):
        writer.append([line(2, text="x" * 200_000)])
    writer.append([line(2)])
    writer.close()


def alter(path: Path, how: str) -> None:
    """Change a file as something else on the machine could."""
    if how == "delete":
        path.unlink()
    elif how == "same size":
        with path.open("r+b") as file:
            file.seek(-100, os.SEEK_END)
            file.write(b"0")
    else:
        os.truncate(path, path.stat().st_size + (5 if how == "grow" else -5))


@pytest.mark.parametrize("later_s", [0, 60])
@pytest.mark.parametrize("how", ["grow", "shrink", "delete", "same size"])
def test_a_file_altered_by_something_else_is_left_alone(
    how: str, later_s: int, trace: TraceMaker, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = trace(2)
    writer, _, _ = TraceWriter.reopen(path)
    now_ns = time.time_ns()
    monkeypatch.setattr("triage.store.written.time.time_ns", lambda: now_ns + later_s * 1_000_000_000)
    writer.expect_unaltered()
    if later_s:
        time.sleep(0.02)  # the times of files do not move with every nanosecond
    alter(path, how)
    altered = path.read_bytes() if path.exists() else b""
    with pytest.raises(StoreUnavailable, match="altered or deleted"):
        writer.append([line(3)])
    writer.close()
    assert not path.exists() or path.read_bytes() == altered


def test_a_file_that_was_only_touched_is_written_on(trace: TraceMaker, line: LineMaker) -> None:
    path = trace(2)
    with closing(TraceWriter.reopen(path)[0]) as writer:
        os.utime(path)
        writer.append([line(3)])
    assert verify_trace(path) == []


def test_an_untouched_file_is_not_read_again_at_each_answer(
    trace: TraceMaker, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    with closing(TraceWriter.reopen(trace(2))[0]) as writer:
        now_ns = time.time_ns()
        monkeypatch.setattr("triage.store.written.time.time_ns", lambda: now_ns + 60_000_000_000)
        writer.expect_unaltered()
        monkeypatch.setattr("triage.store.written.Written._equals", failing(errno.EIO))
        writer.expect_unaltered()
        writer.append([line(3)])


@pytest.mark.parametrize("how", ["grow", "delete", "same size"])
def test_a_copy_holds_what_was_saved_whatever_became_of_the_file(
    how: str, trace: TraceMaker, line: LineMaker, tmp_path: Path
) -> None:
    path = trace(2)
    saved = read_trace(path).lines
    with closing(TraceWriter.reopen(path)[0]) as writer:
        writer.append([line(3)])
        alter(path, how)
        with closing(writer.copy_to(tmp_path / "elsewhere" / "copy.jsonl", [line(4)])) as copy:
            copy.append([line(5)])
    there = tmp_path / "elsewhere" / "copy.jsonl"
    assert verify_trace(there) == []
    assert read_trace(there).lines == (*saved, line(3), line(4), line(5))
    assert there.stat().st_mode & 0o777 == 0o600


def test_a_copy_never_replaces_what_is_there(trace: TraceMaker, tmp_path: Path) -> None:
    there = tmp_path / "copy.jsonl"
    there.write_text("mine", encoding="utf-8")
    with closing(TraceWriter.reopen(trace(2))[0]) as writer, pytest.raises(StoreUnavailable, match="already"):
        writer.copy_to(there, [])
    assert there.read_text(encoding="utf-8") == "mine"


def test_a_trace_that_others_may_read_is_made_private_when_it_is_taken_up(trace: TraceMaker) -> None:
    path = trace(2)
    path.chmod(0o666)
    TraceWriter.reopen(path)[0].close()
    assert path.stat().st_mode & 0o777 == 0o600


def test_a_disk_that_keeps_no_permissions_is_written_all_the_same(
    trace: TraceMaker, line: LineMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = trace(2)
    path.chmod(0o666)
    monkeypatch.setattr("triage.store.disk.os.fchmod", failing(errno.EPERM))
    with closing(TraceWriter.reopen(path)[0]) as writer:
        writer.append([line(3)])
    assert verify_trace(path) == []


def test_a_second_writer_is_refused_in_the_same_program_and_in_another(trace: TraceMaker) -> None:
    path = trace(2)
    writer, _, _ = TraceWriter.reopen(path)
    with pytest.raises(StoreUnavailable, match="open for writing elsewhere"):
        TraceWriter.reopen(path)
    refused = run_second_writer(path)
    assert (refused.returncode, "open for writing elsewhere" in refused.stderr) == (1, True)
    assert "Traceback" not in refused.stderr
    writer.close()
    assert run_second_writer(path).returncode == 0


def test_a_new_trace_is_locked_from_the_start(tmp_path: Path, line: LineMaker) -> None:
    with closing(TraceWriter.create(tmp_path, "job")) as writer:
        writer.append([line(1)])
        assert "elsewhere" in run_second_writer(writer.path).stderr


def test_a_damaged_trace_is_not_resumed_and_not_touched(trace: TraceMaker) -> None:
    path = trace(3)
    edited = path.read_bytes().replace("né 2".encode(), b"no 22")
    path.write_bytes(edited[:-9])
    with pytest.raises(TraceDamaged, match="Line 2 was changed"):
        TraceWriter.reopen(path)
    assert path.read_bytes() == edited[:-9]
    assert list(path.parent.iterdir()) == [path]


def test_a_trace_that_cannot_be_opened_to_write_is_said(trace: TraceMaker, monkeypatch: pytest.MonkeyPatch) -> None:
    path = trace(1)
    with monkeypatch.context() as patch:
        patch.setattr(os, "open", failing(errno.EROFS))
        with pytest.raises(StoreUnavailable, match="cannot be resumed: the disk is read-only"):
            TraceWriter.reopen(path)
    with pytest.raises(StoreUnavailable, match="cannot be resumed: it is not there"):
        TraceWriter.reopen(path.with_name("none.jsonl"))


def test_a_link_is_not_followed(trace: TraceMaker, tmp_path: Path) -> None:
    (tmp_path / "link.jsonl").symlink_to(trace(1))
    with pytest.raises(StoreUnavailable, match="not an ordinary file"):
        TraceWriter.reopen(tmp_path / "link.jsonl")


def test_a_name_taken_by_a_dangling_link_is_not_written_through(tmp_path: Path) -> None:
    (tmp_path / "job.jsonl").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(StoreUnavailable, match="a session job already"):
        TraceWriter.create(tmp_path, "job")
    assert not (tmp_path / "elsewhere").exists()
