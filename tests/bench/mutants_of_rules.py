"""Weaken the rules of safety one small step at a time, and see that the tests or the walk notice.

    python tests/bench/mutants_of_rules.py [NUMBER ...] [--all]

First the unchanged program has to pass. Each mutant is one place of the program, changed in a copy of it: what a slip
of an author's hand could do. The copy has to be caught by the quick part of the tests, or else by one of the scripts
with the watcher. Ends with 0 when all were.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.ends_weakened import MUTANTS_OF_ENDS
from tests.bench.mutants import MUTANTS, Mutant

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("triage", "trees", "tests", "docs", "transcripts_demo")
QUICK = (
    "tests/session",
    "tests/app/test_trouble.py",
    "tests/app/test_resuming.py",
    "tests/app/test_job.py",
    "tests/knowledge/test_safety_floor.py",
)
"""Tests that are tried against every mutant, besides those that it names."""
WORLDS = ("--worlds", "shipped", "short", "small", "weakened")
WALKS = {
    "refusals": ("tests/bench/prove_refusals.py", "--every", "12"),
    "walk": ("tests/bench/walk_commands.py", "--seed", "5", "--commands", "8000", *WORLDS),
    "disks": ("tests/bench/walk_commands.py", "--seed", "5", "--worlds", "short", "--full-disks", "--commands", "1500"),
    "forged": ("tests/bench/craft_traces.py", "--seed", "5", "--traces", "80"),
}
"""Scripts that are tried against every mutant that the tests let pass, the cheap ones first."""


ALL = (*MUTANTS, *MUTANTS_OF_ENDS)
UNCHANGED = Mutant(0, "triage/__init__.py", "", "", "nothing was weakened")


def copied(folder: Path, mutant: Mutant) -> None:
    """Make a copy of the program with the mutant in it.

    Raises:
        ValueError: the place is not there once.
    """
    for name in COPIED:
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    if mutant is UNCHANGED:
        return
    path = folder / mutant.file
    text = path.read_text(encoding="utf-8")
    if text.count(mutant.old) != 1:
        raise ValueError(f"{mutant.file} holds {text.count(mutant.old)} times: {mutant.old}")
    path.write_text(text.replace(mutant.old, mutant.new), encoding="utf-8")


def noticed(folder: Path, words: tuple[str, ...]) -> str:
    """The last line of what was said where a script or a test did not pass, or ""."""
    there = {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    told = subprocess.run([sys.executable, *words], cwd=folder, env=there, capture_output=True, text=True, check=False)
    if not told.returncode:
        return ""
    said = [line for line in (told.stdout + told.stderr).splitlines() if line.strip()]
    return said[-1] if said else "no word"


def tried(mutant: Mutant, *, by_all: bool) -> list[str]:
    """Who noticed a mutant, each with the last word; the first one is enough unless all are asked."""
    tests = ("-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *_there((*mutant.tests, *QUICK)))
    told = []
    with tempfile.TemporaryDirectory(prefix="mutant-") as name:
        folder = Path(name)
        copied(folder, mutant)
        for who, words in {"tests": tests, **WALKS}.items():
            word = noticed(folder, words)
            told += [f"{who}: {word}"] if word else []
            if told and not by_all:
                break
    return told


def _there(paths: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(path for path in paths if (ROOT / path.partition("::")[0]).exists())


def main() -> int:
    """Try the mutants and say which nobody noticed."""
    parser = argparse.ArgumentParser(description="Weaken the rules one step at a time, and see who notices.")
    parser.add_argument("numbers", nargs="*", type=int, help="which mutants, from 1; all where none is named")
    parser.add_argument("--all", action="store_true", help="ask everybody, also where one has noticed")
    options = parser.parse_args()
    if tried(UNCHANGED, by_all=True):
        print("somebody complains about the unchanged program: nothing can be said of any mutant")
        return 1
    survived = []
    for number, mutant in enumerate(ALL, 1):
        if options.numbers and number not in options.numbers:
            continue
        began = time.monotonic()
        who = tried(mutant, by_all=options.all)
        survived += [] if who else [number]
        word = "caught" if who else "SURVIVED"
        print(f"{number:>3} line {mutant.line} {word}: {mutant.why} ({time.monotonic() - began:.0f} s)", flush=True)
        for line in who:
            print(f"      {line[:160]}", flush=True)
    print(f"\n{len(survived)} survived: {survived}" if survived else "\nall were caught")
    return 1 if survived else 0


if __name__ == "__main__":
    sys.exit(main())
