"""The house stands as it was drawn: who may import whom, and what the command line leaves unloaded."""

import ast
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
HEAVY = {"networkx", "numpy", "pint", "prompt_toolkit", "pydantic", "rapidfuzz", "textual", "yaml"}
DEMO = next((ROOT / "transcripts_demo").glob("*.jsonl"))


def test_every_import_contract_is_kept() -> None:
    program = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
    told = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, timeout=120)
    assert told.returncode == 0, told.stdout + told.stderr


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["cases", "--help"], ["no-such-command"]])
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    assert HEAVY.isdisjoint(loaded_by(*words))


@pytest.mark.parametrize(
    ("words", "used"),
    [
        (["quantity", "9 in-lb", "--as", "torque"], set()),
        (["quantity", "9 in-lb", "--as", "length"], set()),
        (["sessions"], set()),
        (["show", str(DEMO)], {"pydantic"}),
        (["verify", str(DEMO)], {"pydantic"}),
        (["demo", DEMO.stem], {"pydantic"}),
        (["costs", str(DEMO)], {"pydantic"}),
        (["resume", DEMO.stem], {"pydantic"}),
        (["symptom", "chirps"], {"pydantic", "rapidfuzz", "yaml"}),
        (["said", "the idler is rough", "--check", "spin-idler"], {"pydantic", "rapidfuzz", "yaml"}),
        (["trees", "check"], {"pydantic", "rapidfuzz", "yaml"}),
        (["cases", "trees/cases/belt-chirp.yaml"], {"numpy", "pydantic", "yaml"}),
    ],
    ids=lambda one: " ".join(sorted(one) if isinstance(one, set) else one),
)
def test_a_command_loads_the_libraries_that_it_uses_and_no_other(
    words: list[str], used: set[str], lived_in: Path
) -> None:
    # Taken up from standard input that is at its end, a session is left again at its first question.
    (lived_in / DEMO.name).write_bytes(DEMO.read_bytes())
    assert loaded_by(*words, home=lived_in) & HEAVY == used


@pytest.fixture(scope="module")
def lived_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of sessions in which the knowledge is kept already."""
    folder = tmp_path_factory.mktemp("lived-in")
    loaded_by("symptom", "chirps", home=folder)
    return folder


def loaded_by(*words: str, home: Path | None = None) -> set[str]:
    """Every module that is loaded once a command has been carried out."""
    program = (
        "import json, sys; from triage.cli.main import run; run(json.loads(sys.argv[1]));"
        "sys.stderr.write('\\n' + json.dumps(sorted(sys.modules)))"
    )
    told = subprocess.run(
        [sys.executable, "-c", program, json.dumps(words)],
        cwd=ROOT,
        env={**os.environ, **({"TRIAGE_HOME": str(home)} if home else {})},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )
    loaded = set(json.loads(told.stderr.splitlines()[-1]))
    assert "triage.cli.main" in loaded
    return loaded


ALL_LATE = ("triage/cli/", "triage/tui/later.py")
ROWS_LATE = ("triage/app/", "triage/present/")
SLOW = {"numpy", "yaml"}
"""What a session is taken up and shown without."""
ONE_LATE = {
    ("triage/drive/motion/running.py", "triage.drive.motion.compiled"),  # is not there without the extra
    ("triage/tui/app.py", "triage.tui.pages.reader"),
    ("triage/tui/app.py", "triage.tui.start"),  # all that the first paint does without
    ("triage/tui/terminal.py", "textual.drivers"),  # is not there on every system
    ("triage/units/library.py", "pint"),
}


def test_imports_are_late_only_where_the_rule_for_them_says_so() -> None:
    late = {(file, module) for file, module, inside in imports() if inside and not file.startswith(ALL_LATE)}
    rows = {(file, module) for file, module in late if file.startswith(ROWS_LATE) and SLOW & brought(module)}
    assert late - rows == ONE_LATE


@cache
def imports() -> tuple[tuple[str, str, bool], ...]:
    """Each file of the program with each module that it imports to run, and whether that is inside a function."""
    trees = {path: ast.parse(path.read_text("utf-8")) for path in sorted((ROOT / "triage").rglob("*.py"))}
    return tuple(
        (path.relative_to(ROOT).as_posix(), module, inside)
        for path, tree in trees.items()
        for module, inside in imported(tree)
    )


def imported(node: ast.AST, *, inside: bool = False) -> Iterator[tuple[str, bool]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING":
            continue
        if isinstance(child, ast.ImportFrom) and child.module:
            yield child.module, inside
        elif isinstance(child, ast.Import):
            yield from ((name.name, inside) for name in child.names)
        yield from imported(child, inside=inside or isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef))


def brought(module: str) -> set[str]:
    """What is loaded with a module of the program, libraries among it."""
    at_once: dict[str, set[str]] = {}
    for file, other, inside in imports():
        own = file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        at_once.setdefault(own, set()).update(() if inside else (other,))
    found, waiting = set[str](), [module]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += at_once.get(one, ())
    return found


def test_the_command_that_is_tried_is_the_one_that_the_readme_gives() -> None:
    tried = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    (command,) = [line for line in tried if "-m pytest" in line]
    assert f"\n{command}\n" in (ROOT / "README.md").read_text(encoding="utf-8")
