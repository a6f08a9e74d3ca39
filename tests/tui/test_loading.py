"""What the face loads, and when: nothing slow before it is seen, the unit library behind everything else."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from triage.cli.face import desk
from triage.units import library

HEAVY = "{'pydantic', 'pint', 'networkx', 'yaml', 'numpy', 'rapidfuzz', 'prompt_toolkit'} & set(sys.modules)"


def loaded(program: str, folder: Path) -> list[str]:
    """What a program that runs the face prints of what is loaded at each stage."""
    whole = (
        "import asyncio, sys, threading\n"
        "from triage.cli.face import desk\n"
        "from triage.tui.app import TriageApp\n"
        f"def tell(app): print(type(app.screen).__name__, *sorted({HEAVY}))\n"
        f"{program}\n"
        "asyncio.run(main())"
    )
    told = subprocess.run(
        [sys.executable, "-c", whole],
        env={**os.environ, "TRIAGE_HOME": str(folder)},
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert told.returncode == 0, told.stderr
    return told.stdout.splitlines()


def test_nothing_slow_is_loaded_before_the_first_paint_nor_for_the_start_screen(tmp_path: Path) -> None:
    program = (
        "listed, read = threading.Event(), threading.Event()\n"
        "at = desk()\n"
        "object.__setattr__(at, 'saved', lambda: listed.wait(9) and ())\n"
        "object.__setattr__(at, 'load', lambda: read.wait(9))\n"
        "async def main():\n"
        "    app = TriageApp(at)\n"
        "    async with app.run_test() as pilot:\n"
        "        await pilot.pause(); tell(app); listed.set()\n"
        "        while type(app.screen).__name__ == 'Welcome': await pilot.pause(0.01)\n"
        "        await pilot.pause(); tell(app); app.exit(); read.set()\n"
    )
    assert loaded(program, tmp_path) == ["Welcome", "StartScreen"]


def test_what_is_loaded_in_the_background_leaves_the_unit_library_to_the_last(tmp_path: Path) -> None:
    program = (
        "from triage.tui import app as face\n"
        "async def main():\n"
        "    for face.UNHURRIED_S in (60, 0.01):\n"
        "        app = TriageApp(desk())\n"
        "        async with app.run_test() as pilot:\n"
        "            while type(app.screen).__name__ == 'Welcome': await pilot.pause(0.01)\n"
        "            for _ in range(20):\n"
        "                await pilot.pause(0.01)\n"
        "                await app.workers.wait_for_complete()\n"
        "            tell(app)\n"
    )
    # YAML and likeness are for the words of complaints; that the knowledge needs neither is shown with its kept form.
    usable = "StartScreen numpy pydantic rapidfuzz yaml"
    first, last = loaded(program, tmp_path)
    assert first == usable
    assert last.split() == ["StartScreen", "numpy", "pint", "pydantic", "rapidfuzz", "yaml"]


async def test_a_table_of_units_that_is_not_the_library_s_ends_the_program_and_is_told(
    bench: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("triage.tui.app.UNHURRIED_S", 0.01)
    monkeypatch.setattr("triage.units.library.FACTORS", {("inch", "meter"): ("127/5001", "0")})
    app = bench.app()
    object.__setattr__(app._desk, "prove_units", desk().prove_units)
    async with app.run_test() as pilot:
        for _ in range(100):
            if app.failure:
                break
            await pilot.pause(0.05)
    assert "another factor for inch" in str(app.failure)


async def test_a_unit_library_that_cannot_be_loaded_says_nothing_about_the_table(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "pint", None)
    library._registry.cache_clear()
    desk().prove_units()
