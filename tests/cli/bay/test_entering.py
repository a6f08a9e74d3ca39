"""`triage drive new`: questions on standard error, answers from standard input, the page on standard output."""

import io
from pathlib import Path

import pytest

from triage.cli.main import run
from triage.errors import EXIT_OK, EXIT_REFUSED

TAPE = (
    "160 outside\ntensioner back 76 outside\n\nalternator 56\nalternator 56 outside\nbelt 6PK1350\n4\ndone\nbay-three\n"
)


def entered(text: str, monkeypatch: pytest.MonkeyPatch, home: Path) -> int:
    monkeypatch.setenv("TRIAGE_HOME", str(home))
    monkeypatch.setattr("sys.stdin", io.StringIO(text))
    return run(["drive", "new"])


def test_a_drive_is_entered_kept_and_shown(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert entered(TAPE, monkeypatch, tmp_path) == EXIT_OK
    said = capsys.readouterr()
    assert said.out.startswith("Layout: bay-three\n")
    assert "How was the 56 mm of alternator measured?" in said.err
    assert "It is kept as bay-three" in said.err
    assert run(["drive", "bay-three", "--json"]) == EXIT_OK


def test_input_that_ends_early_saves_nothing_and_says_so(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert entered(TAPE[:60], monkeypatch, tmp_path) == EXIT_REFUSED
    assert "Nothing was saved" in capsys.readouterr().err
    assert not (tmp_path / "layouts").exists()
