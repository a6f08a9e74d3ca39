"""Branches that several trees share."""

from typing import TYPE_CHECKING

from triage.knowledge.loading import load_knowledge

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

BRANCH = """\
branch: belt-first
nodes:
  look-first:
    check: belt-condition
    next: {sound: start-here, torn: belt}
    cannot: start-here
"""


def share(world: "SmallWorld", text: str = BRANCH) -> None:
    folder = world.folder / "branches"
    folder.mkdir()
    (folder / "belt-first.yaml").write_text(text, encoding="utf-8")


def test_a_branch_that_no_tree_uses_is_named(world: "SmallWorld") -> None:
    share(world)
    assert any("No tree uses the branch 'belt-first'" in fault for fault in world.faults())


def test_a_branch_that_is_not_there_is_named_with_the_nearest(world: "SmallWorld") -> None:
    share(world)
    world.change("symptoms/whine.yaml", "nodes:", "uses: [belt-fist]\nnodes:")
    faults = world.faults()
    assert any("There is no branch 'belt-fist'" in fault and "belt-first" in fault for fault in faults)


def test_the_nodes_of_a_branch_become_nodes_of_the_tree_and_keep_their_own_place(world: "SmallWorld") -> None:
    share(world)
    world.change("symptoms/whine.yaml", "nodes:", "uses: [belt-first]\nnodes:")
    faults = world.faults()
    assert any(fault.startswith("branches/belt-first.yaml:3:3: No path leads") for fault in faults)


def test_a_node_that_stands_in_the_tree_already_is_refused(world: "SmallWorld") -> None:
    share(world, BRANCH.replace("look-first:", "belt:"))
    world.change("symptoms/whine.yaml", "nodes:", "uses: [belt-first]\nnodes:")
    assert any("stands in the tree" in fault for fault in world.faults())


def test_the_small_world_is_sound_without_branches(world: "SmallWorld") -> None:
    assert load_knowledge(world.folder).trees["whine-driving"].uses == ()
