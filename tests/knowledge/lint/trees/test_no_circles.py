from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_paths_that_meet_again_pass(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "always: look, not-sure: look", "always: look, not-sure: quiet")


def test_a_way_back_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  drag:\n"
        "    check: idler-drag\n"
        "    next: {free: elsewhere, stiff: bearing, stuck: bearing}\n"
        "    cannot: unclear",
        "  ¦drag:\n"
        "    check: idler-drag\n"
        "    next: {free: elsewhere, stiff: bearing, stuck: bearing}\n"
        "    cannot: turn",
        "Node 'drag' leads back to 'turn', which leads to it. Lead on to a node that comes later.",
    )


def test_a_node_that_leads_to_itself_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  listen:\n    check: whine-running\n    next: {quiet: quiet, whines: turn}\n    cannot: turn",
        "  ¦listen:\n    check: whine-running\n    next: {quiet: quiet, whines: turn}\n    cannot: listen",
        "Node 'listen' leads back to 'listen', which leads to it. Lead on to a node that comes later.",
    )
