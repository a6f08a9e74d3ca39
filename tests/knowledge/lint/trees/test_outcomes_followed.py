from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_the_order_of_the_next_nodes_is_free(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "{quiet: quiet, whines: turn}", "{whines: turn, quiet: quiet}")


def test_an_outcome_left_out_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "next: {quiet: quiet, whines: turn}",
        "¦next: {quiet: quiet}",
        "Node 'listen' does not say what follows 'whines' of whine-running. Add 'whines:' and a node.",
    )


def test_an_outcome_that_does_not_exist_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "{quiet: quiet, whines: turn}",
        "{quiet: quiet, whines: turn, ¦whine: turn}",
        "Check whine-running has no outcome 'whine'. Did you mean 'whines'?",
    )
