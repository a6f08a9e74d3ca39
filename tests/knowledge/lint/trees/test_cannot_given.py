from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_going_on_to_an_end_passes(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "cannot: turn", "cannot: unclear")


def test_a_check_without_cannot_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  listen:\n    check: whine-running\n    next: {quiet: quiet, whines: turn}\n    cannot: turn\n",
        "  ¦listen:\n    check: whine-running\n    next: {quiet: quiet, whines: turn}\n",
        "Node 'listen' does not say where to go when whine-running could not be done. Add 'cannot:' and a node.",
    )
