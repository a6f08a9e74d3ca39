from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_all_five_to_one_node_pass(world: "SmallWorld") -> None:
    world.passes(
        "symptoms/whine.yaml",
        "{solid: drag, isolator: unclear, one-way-clutch: unclear, decoupler: drag, unknown: drag}",
        "{solid: drag, isolator: drag, one-way-clutch: drag, decoupler: drag, unknown: drag}",
    )


def test_a_pulley_left_out_is_named(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "    by_pulley: {solid: drag, isolator: unclear, one-way-clutch: unclear, decoupler: drag, unknown: drag}",
        "    ¦by_pulley: {solid: drag, isolator: unclear, one-way-clutch: unclear}",
        "Node 'turn' leaves out decoupler, unknown. Add a node for each.",
    )
