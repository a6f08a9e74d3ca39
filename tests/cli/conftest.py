"""What tests of the command line share: the small knowledge in place of the shipped one."""

import runpy
from pathlib import Path
from typing import Any

import pytest

SMALL = runpy.run_path(str(Path(__file__).resolve().parents[1] / "knowledge" / "conftest.py"))["SmallWorld"]


@pytest.fixture
def world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """A small world that the command line takes for the shipped knowledge."""
    monkeypatch.setattr("triage.knowledge.shipped.trees_folder", lambda: tmp_path / "trees")
    world = SMALL(tmp_path / "trees")
    world.keep_floor()
    return world
