"""The script behind docs/made/comparison.md, on the small knowledge."""

import runpy
from pathlib import Path

import make_comparison
import pytest

from triage.documents.reading import read_document
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Knowledge
from triage.knowledge.shipped import trees_folder

ROOT = Path(__file__).resolve().parents[2]
SMALL = runpy.run_path(str(ROOT / "tests" / "knowledge" / "conftest.py"))["SmallWorld"]


@pytest.fixture
def knowledge(tmp_path: Path) -> Knowledge:
    return load_knowledge(SMALL(tmp_path).folder)


def cells(line: str) -> list[str]:
    return [cell.strip() for cell in line.strip("|").split("|")]


def test_each_tree_stands_beside_its_rivals_and_the_minutes_add_up(knowledge: Knowledge) -> None:
    lines = "\n".join(make_comparison.page(knowledge, ("solid", "decoupler"))).splitlines()
    rows = [cells(line) for line in lines if line.startswith("| whine-driving")]
    assert [row[1] for row in rows[:2]] == ["tree", "grown"]
    for name in ("tree", "grown"):
        (minutes,) = [row[2].split(" ±")[0] for row in rows[:2] if row[1] == name]
        (spent,) = [row for row in rows[2:5] if row[1] == name]
        assert float(spent[-2]) == pytest.approx(float(minutes), abs=0.11)
        assert sum(map(float, spent[2:-2])) == pytest.approx(float(spent[-2]), abs=0.5)
    assert rows[4][1] == "longer by"


def test_a_damaged_belt_and_a_loose_pulley_forbid_a_running_engine() -> None:
    unsafe = make_comparison.forbidding(load_knowledge(trees_folder()))
    assert {"belt-damaged", "pulley-loose"} <= unsafe
    assert "belt-worn" not in unsafe


def test_every_vehicle_state_has_its_word() -> None:
    states = {check.state for check in load_knowledge(trees_folder()).checks.values()}
    assert states <= set(make_comparison.KINDS)


def test_every_shipped_tree_has_a_reason_for_its_longer_way() -> None:
    told = read_document(make_comparison.REASONS).data
    assert isinstance(told, dict)
    assert set(told) == set(load_knowledge(trees_folder()).trees)
    assert all("Paid for: " in reason and "To mend next: " in reason for reason in told.values())
