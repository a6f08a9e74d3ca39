"""What is kept only to save time: it may be lost, foreign, old or half-written, and is then as if it were not there."""

import os
import stat
from pathlib import Path

import pytest

from triage.store.kept import keep, kept

ORIGIN = "a" * 64
CONTENT = b'{"figures": [1, 2, 3]}\n\x00 and more'


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "kept" / "figures"
    keep(path, ORIGIN, CONTENT)
    return path


def test_what_was_kept_comes_back(file: Path) -> None:
    assert kept(file, ORIGIN) == CONTENT


def test_what_was_made_from_something_else_is_not_taken(file: Path) -> None:
    assert kept(file, "b" * 64) is None


def test_what_was_never_kept_is_missing_and_no_error(tmp_path: Path) -> None:
    assert kept(tmp_path / "figures", ORIGIN) is None
    assert kept(tmp_path / "none" / "figures", ORIGIN) is None


def test_the_last_one_kept_counts(file: Path) -> None:
    keep(file, "b" * 64, b"new")
    assert (kept(file, ORIGIN), kept(file, "b" * 64)) == (None, b"new")
    assert [path.name for path in file.parent.iterdir()] == ["figures"]


def test_a_file_that_was_cut_anywhere_is_not_taken(file: Path) -> None:
    whole = file.read_bytes()
    for length in range(len(whole)):
        file.write_bytes(whole[:length])
        assert kept(file, ORIGIN) is None


def test_a_file_with_one_byte_changed_anywhere_is_not_taken(file: Path) -> None:
    whole = file.read_bytes()
    for at in range(len(whole)):
        file.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        assert kept(file, ORIGIN) is None
    file.write_bytes(whole)
    assert kept(file, ORIGIN) == CONTENT


@pytest.mark.skipif(os.name == "nt", reason="the system has no such permissions")
def test_only_its_owner_may_read_it(file: Path) -> None:
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700


@pytest.mark.skipif(os.name == "nt", reason="the system has no such permissions")
@pytest.mark.parametrize("mode", [0o620, 0o602, 0o640, 0o604])
def test_a_file_that_others_can_reach_is_not_taken(file: Path, mode: int) -> None:
    file.chmod(mode)
    assert kept(file, ORIGIN) is None


@pytest.mark.skipif(os.name == "nt", reason="the system has no owners of this kind")
def test_a_file_of_another_owner_is_not_taken(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "getuid", lambda: file.stat().st_uid + 1)
    assert kept(file, ORIGIN) is None


def test_links_and_folders_are_not_taken(file: Path) -> None:
    link = file.with_name("link")
    link.symlink_to(file)
    file.with_name("folder").mkdir()
    assert kept(link, ORIGIN) is None
    assert kept(file.with_name("folder"), ORIGIN) is None


def test_what_cannot_be_written_is_not_kept_and_no_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    keep(tmp_path / "file" / "figures", ORIGIN, CONTENT)
    (tmp_path / "figures").mkdir()
    keep(tmp_path / "figures", ORIGIN, CONTENT)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["figures", "file"]


def test_a_write_that_was_stopped_half_way_leaves_the_next_one_free(file: Path) -> None:
    left_over = file.with_name("figures.new")
    left_over.write_bytes(b"half")
    keep(file, "b" * 64, b"new")
    assert kept(file, "b" * 64) == b"new"
    assert not left_over.exists()
