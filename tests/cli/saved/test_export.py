from pathlib import Path

import pytest

from triage.cli.main import run
from triage.errors import EXIT_FILE, EXIT_OK, EXIT_REFUSED
from triage.knowledge.shipped import demos_folder
from triage.store import read_trace

DEMO = demos_folder() / "worn-bearing.jsonl"


def test_a_file_that_travels_is_shown_and_verified_where_nothing_else_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "sent.jsonl"
    assert run(["export", str(DEMO), "--out", str(out)]) == EXIT_OK
    mark = capsys.readouterr().out.strip()
    assert mark == str(read_trace(DEMO).head)
    assert run(["verify", str(out), "--head", mark]) == EXIT_OK
    assert run(["show", str(out)]) == EXIT_OK
    assert "Job demo-1" in capsys.readouterr().out


def test_a_bare_file_without_its_knowledge_says_how_to_get_one_that_travels(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bare = tmp_path / "bare.jsonl"
    bare.write_bytes(DEMO.read_bytes())
    for command in ("show", "resume"):
        assert run([command, str(bare)]) == EXIT_FILE
        said = capsys.readouterr().err
        assert "came without its knowledge" in said
        assert "triage export SESSION --out FILE" in said
    assert run(["verify", str(bare)]) != EXIT_OK


def test_a_file_is_named_and_none_is_replaced_unasked(tmp_path: Path) -> None:
    assert run(["export", str(DEMO)]) == EXIT_REFUSED
    out = tmp_path / "sent.jsonl"
    out.write_text("kept")
    assert run(["export", str(DEMO), "--out", str(out)]) == EXIT_FILE
    assert out.read_text() == "kept"
    assert run(["export", str(DEMO), "--out", str(out), "--overwrite"]) == EXIT_OK
