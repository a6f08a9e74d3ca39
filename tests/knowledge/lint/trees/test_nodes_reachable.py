from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_a_node_that_only_a_skip_leads_to_passes(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "skip: unclear", "skip: aside\n  aside: {end: undecided}")


def test_a_node_that_nothing_leads_to_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  quiet: {",
        "  ¦alone: {end: undecided}\n  quiet: {",
        "No path leads to node 'alone'. Lead to it, or take it away.",
    )
