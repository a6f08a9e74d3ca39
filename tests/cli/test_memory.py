"""A machine, or a limit, with too little memory: a sentence and an exit code, no text of a library."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from triage.cli import main
from triage.cli.bay import quantity
from triage.errors import EXIT_MEMORY, EXIT_OK

resource = pytest.importorskip("resource")
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="other systems take no such limit")

ROOT = Path(__file__).resolve().parents[2]
COMMANDS = [
    ("quantity", "9 in-lb", "--as", "torque"),
    ("drive", "four-cylinder-full", "--json"),
    ("trees", "check"),
    ("demo", "worn-bearing"),
    ("chat",),
]


def triage(*words: str, megabytes: int, home: Path) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "triage", *words],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "TRIAGE_HOME": str(home)},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (megabytes << 20, megabytes << 20)),
        timeout=120,
        check=False,
    )


@pytest.mark.parametrize("megabytes", [50, 80, 120, 160])
@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: words[0])
def test_too_little_memory_is_a_sentence(words: tuple[str, ...], megabytes: int, tmp_path: Path) -> None:
    told = triage(*words, megabytes=megabytes, home=tmp_path)
    assert told.returncode == EXIT_MEMORY, told.stderr
    assert told.stdout == ""
    assert told.stderr.startswith("There is too little memory: triage needs 256 MiB")
    assert "Nothing was lost." in told.stderr


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: words[0])
def test_what_is_asked_for_is_enough(words: tuple[str, ...], tmp_path: Path) -> None:
    told = triage(*words, megabytes=256 + 40, home=tmp_path)
    assert told.returncode == EXIT_OK, told.stderr


def test_help_needs_no_more_than_the_interpreter(tmp_path: Path) -> None:
    assert triage("--help", megabytes=50, home=tmp_path).returncode == EXIT_OK


def test_memory_that_runs_out_at_work_is_no_defect(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(_: object) -> int:
        raise MemoryError

    monkeypatch.setattr(quantity, "run", fail)
    assert main.run(["quantity", "9 Nm", "--as", "torque"]) == EXIT_MEMORY
    told = capsys.readouterr().err
    assert "ran out of memory" in told
    assert "on disk" in told
    assert "defect" not in told
