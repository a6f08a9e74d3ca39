from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_a_question_may_also_have_a_state(world: "SmallWorld") -> None:
    world.passes("checks/belt.yaml", "state: anywhere", "state: stopped")


def test_a_look_from_anywhere_is_refused(world: "SmallWorld") -> None:
    world.change("checks/belt.yaml", "way: ask", "way: look")
    world.fails(
        "checks/belt.yaml",
        "minutes: 1\n    state: anywhere",
        "minutes: 1\n    state: ¦anywhere",
        "Check complaint is made at the vehicle, but its state is 'anywhere'. Name the vehicle state that it needs.",
    )
