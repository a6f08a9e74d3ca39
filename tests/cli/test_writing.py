"""Files that a command writes where it is told to: whole or not at all, and never over another unasked."""

import os
from pathlib import Path

import pytest

from triage.cli import main
from triage.cli.writing import refuse_target, write_file
from triage.errors import EXIT_FILE, EXIT_OK, StoreUnavailable

OLD = "what stood there before"


@pytest.fixture
def taken(tmp_path: Path) -> Path:
    file = tmp_path / "drive.svg"
    file.write_text(OLD, encoding="utf-8")
    return file


@pytest.mark.parametrize(
    "words",
    [
        ("drive", "stretch-belt", "--picture"),
        ("trees", "draw", "shutdown-buzz", "--picture"),
        ("trees", "grow", "shutdown-buzz", "--write"),
    ],
    ids=" ".join,
)
def test_no_command_replaces_a_file_unasked(
    words: tuple[str, ...], taken: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main.run([*words, str(taken)]) == EXIT_FILE
    told = capsys.readouterr()
    assert "drive.svg is there already" in told.err
    assert "--overwrite" in told.err
    assert (told.out, taken.read_text(encoding="utf-8")) == ("", OLD)


def test_a_file_is_replaced_when_that_was_said(taken: Path) -> None:
    assert main.run(["drive", "stretch-belt", "--picture", str(taken), "--overwrite"]) == EXIT_OK
    assert taken.read_text(encoding="utf-8").startswith("<svg")
    assert list(taken.parent.iterdir()) == [taken]


def test_a_file_that_came_in_between_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "tree.yaml"
    fsync = os.fsync

    def race(handle: int) -> None:
        fsync(handle)
        if not file.exists():
            file.write_text(OLD, encoding="utf-8")

    monkeypatch.setattr(os, "fsync", race)
    with pytest.raises(StoreUnavailable, match="is there already"):
        write_file(file, "new", "tree")
    assert [path.read_text(encoding="utf-8") for path in tmp_path.iterdir()] == [OLD]


def test_a_disk_without_hard_links_gets_its_file_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    file = tmp_path / "tree.yaml"
    write_file(file, "new", "tree")
    assert [path.read_text(encoding="utf-8") for path in tmp_path.iterdir()] == ["new"]
    with pytest.raises(StoreUnavailable, match="is there already"):
        write_file(file, "newer", "tree")
    assert file.read_text(encoding="utf-8") == "new"


@pytest.mark.parametrize("overwrite", [False, True])
@pytest.mark.parametrize("call", ["write", "fsync"])
def test_a_disk_that_fails_leaves_what_stood_there_and_no_leftover(
    call: str, overwrite: bool, taken: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> int:
        raise OSError(28, "No space left on device")

    file = taken if overwrite else taken.with_name("other.svg")
    monkeypatch.setattr(os, call, fail)
    with pytest.raises(StoreUnavailable, match="the disk is full"):
        write_file(file, "new", "picture", overwrite=overwrite)
    assert [path.read_text(encoding="utf-8") for path in taken.parent.iterdir()] == [OLD]


def test_the_old_file_stands_whole_until_the_new_one_does(taken: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fsync, seen = os.fsync, []

    def look(handle: int) -> None:
        fsync(handle)
        seen.append(taken.read_text(encoding="utf-8"))

    monkeypatch.setattr(os, "fsync", look)
    write_file(taken, "new", "picture", overwrite=True)
    assert seen[0] == OLD
    assert taken.read_text(encoding="utf-8") == "new"


@pytest.mark.parametrize("overwrite", [False, True])
@pytest.mark.parametrize("kind", ["link", "loose link", "folder", "pipe"])
def test_a_link_a_folder_and_a_pipe_are_never_written_through(kind: str, overwrite: bool, tmp_path: Path) -> None:
    file, elsewhere = tmp_path / "odd", tmp_path / "elsewhere"
    if kind == "folder":
        file.mkdir()
    elif kind == "pipe":
        os.mkfifo(file)
    else:
        file.symlink_to(elsewhere)
        if kind == "link":
            elsewhere.write_text(OLD, encoding="utf-8")
    before = file.lstat()
    for attempt in (refuse_target, lambda path, **how: write_file(path, "new", "tree", **how)):
        with pytest.raises(StoreUnavailable, match="not an ordinary file"):
            attempt(file, overwrite=overwrite)
    assert file.lstat() == before
    assert not elsewhere.exists() or elsewhere.read_text(encoding="utf-8") == OLD


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps no such rights")
def test_a_file_keeps_its_rights_and_a_new_one_gets_those_of_any_new_file(taken: Path, tmp_path: Path) -> None:
    taken.chmod(0o600)
    write_file(taken, "new", "picture", overwrite=True)
    assert taken.stat().st_mode & 0o777 == 0o600
    plain = tmp_path / "plain"
    plain.touch()
    write_file(tmp_path / "tree.yaml", "new", "tree")
    assert (tmp_path / "tree.yaml").stat().st_mode == plain.stat().st_mode
