from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_one_confirmation_is_enough(world: "SmallWorld") -> None:
    world.passes("interlocks.yaml", "confirmations: [hands-out]", "confirmations: [key-out]")


def test_a_state_that_anyone_may_enter_unasked_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "interlocks.yaml",
        "confirmations: [hands-out]",
        "confirmations: ¦[]",
        "Nothing is confirmed before the vehicle state running is entered. List what must be confirmed, one by one.",
    )
