from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_a_check_for_some_vehicles_with_a_skip_passes(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "skip: unclear", "skip: elsewhere")


def test_a_check_for_some_vehicles_without_a_skip_is_named(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "    skip: unclear\n", "")
    world.fails(
        "symptoms/whine.yaml",
        "  drag:\n    check",
        "  ¦drag:\n    check",
        "Check idler-drag is only for solid, decoupler; the node says nothing for others. Add 'skip:' and a node.",
    )


def test_a_skip_that_is_never_used_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "    cannot: turn\n",
        "    cannot: turn\n    ¦skip: turn\n",
        "Check whine-running fits every vehicle, so 'skip' is never used. Take it away.",
    )
