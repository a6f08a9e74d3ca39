"""Files that are named for documents: ordinary ones are read, everything else is said to be what it is."""

import os
import socket
import threading
from pathlib import Path

import pytest

from triage.documents.files import is_there
from triage.documents.reading import read_document
from triage.errors import DocumentFaulty

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has no pipes and links of this kind")


def refused(path: Path) -> str:
    """Read in a thread, so that a reader that waits for a pipe fails the test instead of stopping it."""
    messages: list[str] = []

    def read() -> None:
        try:
            read_document(path, name="x.yaml")
        except DocumentFaulty as error:
            messages.append(error.message)

    reader = threading.Thread(target=read, daemon=True)
    reader.start()
    reader.join(timeout=10)
    assert not reader.is_alive(), "it hangs"
    (message,) = messages
    return message


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    assert refused(tmp_path / "pipe.yaml").startswith("x.yaml:1:1: The file cannot be read: it is a pipe.")


def test_a_link_to_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    (tmp_path / "link.yaml").symlink_to("pipe.yaml")
    assert "it is a pipe" in refused(tmp_path / "link.yaml")


def test_a_file_swapped_for_a_pipe_between_two_looks_is_not_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "real.yaml").write_text("a: 1\n", encoding="utf-8")
    os.mkfifo(tmp_path / "pipe.yaml")
    as_it_was = (tmp_path / "real.yaml").stat()
    monkeypatch.setattr(Path, "stat", lambda *_, **__: as_it_was)
    assert "it is a pipe" in refused(tmp_path / "pipe.yaml")


def test_a_folder_a_socket_and_a_device_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "it is a folder. Name an ordinary file." in refused(tmp_path)
    assert "it is a device" in refused(Path("/dev/zero"))
    monkeypatch.chdir(tmp_path)
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("s.yaml")
        assert "it is a socket" in refused(Path("s.yaml"))


def test_a_link_that_leads_nowhere_or_in_a_circle_is_said(tmp_path: Path) -> None:
    (tmp_path / "loose.yaml").symlink_to("nowhere.yaml")
    (tmp_path / "circle.yaml").symlink_to("circle.yaml")
    assert "it is a link to a file that is not there. Mend the link." in refused(tmp_path / "loose.yaml")
    assert "symbolic links" in refused(tmp_path / "circle.yaml")


def test_a_link_to_an_ordinary_file_is_followed(tmp_path: Path) -> None:
    (tmp_path / "real.yaml").write_text("a: 1\n", encoding="utf-8")
    (tmp_path / "link.yaml").symlink_to("real.yaml")
    assert read_document(tmp_path / "link.yaml").data == {"a": 1}


def test_only_what_has_no_name_at_all_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "loose").symlink_to("nowhere")
    (tmp_path / "file").touch()
    assert [is_there(tmp_path / name) for name in ("loose", "file", "x" * 5000)] == [True, True, True]
    assert [is_there(tmp_path / name) for name in ("none", "none/none", "file/none")] == [False, False, False]
