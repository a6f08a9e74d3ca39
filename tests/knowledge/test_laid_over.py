"""A folder laid over another: it adds and tightens, and takes no protection away."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from triage.errors import DocumentFaulty
from triage.knowledge.files import fingerprint
from triage.knowledge.loading import load_interlocks, load_knowledge

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

BELT = """\
  - id: belt-condition
    name: Belt condition by torch
    way: look
    question: How does the belt look?
    why: A torn belt must not run.
    hazards: [Edges cut.]
    tools: [lamp]
    minutes: 3
    people: 2
    state: stopped
    outcomes:
      - {id: sound, words: Sound}
      - {id: torn, words: Torn, sign: belt-torn, closes_running: The belt may come apart.}
      - {id: cannot-tell, words: Cannot tell, says_nothing: true}
"""
CHECKS = f"checks:\n{BELT}"


@pytest.fixture
def over(tmp_path: Path) -> Path:
    (tmp_path / "own" / "checks").mkdir(parents=True)
    return tmp_path / "own"


def faults(world: "SmallWorld", over: Path) -> list[str]:
    try:
        load_knowledge(world.folder, over=over)
    except DocumentFaulty as error:
        return [str(fault).removeprefix(f"{over}/") for fault in error.faults]
    return []


def lay(over: Path, text: str) -> None:
    (over / "checks" / "own.yaml").write_text(text, encoding="utf-8")


def test_a_check_of_the_same_id_stands_in_its_place_and_all_else_stays(world: "SmallWorld", over: Path) -> None:
    lay(over, CHECKS)
    under, laid = load_knowledge(world.folder), load_knowledge(world.folder, over=over)
    assert laid.checks["belt-condition"].minutes == 3
    assert laid.checks["belt-condition"].people == 2
    rest = under.checks.keys() - {"belt-condition"}
    assert {one: laid.checks[one] for one in rest} == {one: under.checks[one] for one in rest}
    assert laid.trees == under.trees


def test_a_tree_of_an_own_symptom_comes_to_the_others(world: "SmallWorld", over: Path) -> None:
    (over / "symptoms").mkdir()
    tree = (world.folder / "symptoms" / "whine.yaml").read_text("utf-8")
    (over / "symptoms" / "own.yaml").write_text(tree.replace("whine-driving", "hum-parked"), "utf-8")
    assert set(load_knowledge(world.folder, over=over).trees) == {"whine-driving", "hum-parked"}


def test_an_id_may_stand_once_in_each_folder(world: "SmallWorld", over: Path) -> None:
    lay(over, CHECKS + BELT)
    assert any("stands twice under checks" in one for one in faults(world, over))


@pytest.mark.parametrize(
    ("old", "new", "taken"),
    [
        (", closes_running: The belt may come apart.", "", "that 'torn' keeps the engine from running"),
        ("torn, words: Torn, sign: belt-torn", "broken, words: Torn, sign: belt-torn", "that 'torn' keeps the engine"),
        ("    hazards: [Edges cut.]\n", "", "'Edges cut.'"),
        ("    people: 2\n", "", "its second person"),
        ("    state: stopped\n", "    state: running\n", "the standing engine"),
        ("    state: stopped\n", "    state: stopped\n    from_seat: true\n", "lets somebody alone make it"),
    ],
)
def test_protection_that_is_taken_away_is_named(
    world: "SmallWorld", over: Path, old: str, new: str, taken: str
) -> None:
    checks = (world.folder / "checks" / "belt.yaml").read_text("utf-8")
    head, _, tail = checks.partition("  - id: belt-condition\n")
    world.write("checks/belt.yaml", head + BELT + "  - id: whine" + tail.partition("  - id: whine")[2])
    lay(over, CHECKS)
    assert faults(world, over) == []
    assert CHECKS.count(old) == 1
    lay(over, CHECKS.replace(old, new))
    assert any(taken in one and one.startswith("checks/own.yaml:") for one in faults(world, over))


def test_a_line_may_come_to_a_state_and_none_may_leave_it(world: "SmallWorld", over: Path) -> None:
    interlocks = (world.folder / "interlocks.yaml").read_text("utf-8")
    lines = interlocks.replace("confirmations: [key-out]", "confirmations: [key-out, hands-out]")
    assert lines != interlocks
    (over / "interlocks.yaml").write_text(lines, "utf-8")
    assert faults(world, over) == []
    assert load_interlocks(world.folder, over).states["stopped"].confirmations == ("key-out", "hands-out")
    world.write("interlocks.yaml", lines)
    (over / "interlocks.yaml").write_text(interlocks, "utf-8")
    assert any("It takes 'hands-out' away from 'stopped'." in one for one in faults(world, over))


def test_what_is_laid_over_changes_the_fingerprint(world: "SmallWorld", over: Path) -> None:
    before = fingerprint(world.folder), fingerprint(world.folder, over)
    lay(over, CHECKS)
    assert len({*before, fingerprint(world.folder, over)}) == 3 - (before[0] == before[1])
