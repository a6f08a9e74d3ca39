"""The house stands as it was drawn: who may import whom, and what the command line leaves unloaded."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
HEAVY = {"networkx", "numpy", "pint", "prompt_toolkit", "pydantic", "rapidfuzz", "textual", "yaml"}


def test_every_import_contract_is_kept() -> None:
    program = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
    told = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, timeout=120)
    assert told.returncode == 0, told.stdout + told.stderr


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["cases", "--help"], ["no-such-command"]])
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    program = (
        "import json, sys; from triage.cli.main import run; run(json.loads(sys.argv[1]));"
        "sys.stderr.write('\\n' + json.dumps(sorted(sys.modules)))"
    )
    told = subprocess.run(
        [sys.executable, "-c", program, json.dumps(words)], cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    loaded = json.loads(told.stderr.splitlines()[-1])
    assert "triage.cli.main" in loaded
    assert HEAVY.isdisjoint(loaded)


def test_the_command_that_is_tried_is_the_one_that_the_readme_gives() -> None:
    tried = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    (command,) = [line for line in tried if "-m pytest" in line]
    assert f"\n{command}\n" in (ROOT / "README.md").read_text(encoding="utf-8")
