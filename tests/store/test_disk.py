import errno
import os
from pathlib import Path

import pytest

from triage.errors import StoreUnavailable
from triage.store import disk


def test_a_link_a_folder_and_a_pipe_are_no_traces(tmp_path: Path) -> None:
    (tmp_path / "real").write_text("x")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    for name in ("link", "loop", "folder", "pipe"):
        with pytest.raises(StoreUnavailable, match="not an ordinary file"):
            disk.open_regular(tmp_path / name)


def test_a_file_swapped_for_a_pipe_between_two_looks_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "real").write_text("x")
    os.mkfifo(tmp_path / "pipe")
    as_it_was = (tmp_path / "real").lstat()
    monkeypatch.setattr(Path, "lstat", lambda _: as_it_was)
    with pytest.raises(StoreUnavailable, match="not an ordinary file"):
        disk.open_regular(tmp_path / "pipe")


def test_a_new_file_is_its_owners_alone_and_never_replaces_another(tmp_path: Path) -> None:
    os.close(disk.open_new(tmp_path / "new"))
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o600
    with pytest.raises(FileExistsError):
        disk.open_new(tmp_path / "new")


def test_writing_goes_on_until_everything_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write = os.write
    monkeypatch.setattr(os, "write", lambda handle, content: write(handle, bytes(content)[:3]))
    handle = disk.open_new(tmp_path / "new")
    disk.write_all(handle, b"0123456789")
    os.close(handle)
    assert (tmp_path / "new").read_bytes() == b"0123456789"


def test_a_disk_that_takes_nothing_and_says_nothing_is_full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    handle = disk.open_new(tmp_path / "new")
    monkeypatch.setattr(os, "write", lambda *_: 0)
    with pytest.raises(OSError, match="space") as caught:
        disk.write_all(handle, b"x")
    os.close(handle)
    assert caught.value.errno == errno.ENOSPC


def test_an_unusual_error_is_said_in_the_systems_words() -> None:
    error = disk.unavailable("It cannot be read", OSError(errno.EMFILE, os.strerror(errno.EMFILE)), "Wait.")
    assert str(error) == f"It cannot be read: {os.strerror(errno.EMFILE)}. Wait."


@pytest.mark.parametrize(("code", "raised"), [(errno.EINVAL, False), (errno.EIO, True)])
def test_a_folder_that_cannot_be_flushed_matters_only_when_the_disk_fails(
    code: int, raised: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: int) -> None:
        raise OSError(code, "no")

    monkeypatch.setattr(os, "fsync", fail)
    if raised:
        with pytest.raises(OSError, match="no"):
            disk.flush_folder(tmp_path)
    else:
        disk.flush_folder(tmp_path)
