from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_using_up_two_things_while_stopped_passes(world: "SmallWorld") -> None:
    world.passes("checks/idler.yaml", "consumes: [a new cap]", "consumes: [a new cap, a rag]")


def test_using_something_up_while_running_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/belt.yaml",
        "    state: running",
        "    consumes: [a rag]\n    state: ¦running",
        "Check whine-running uses something up, but the engine is not stopped. Choose a state with the engine stopped.",
    )
