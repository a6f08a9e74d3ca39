from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

REFUSED = (
    "A path leads to the running check 'whine-running' without a look at the stopped drive. "
    "Put a check with the engine stopped and 'closes_running' outcomes before."
)


def test_a_running_check_behind_a_look_passes(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "cannot: look", "cannot: unclear")


def test_a_path_past_the_look_is_refused(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "  listen:\n    check: whine", "  listen:\n    check: ¦whine")
    world.fails(
        "symptoms/whine.yaml",
        "not-sure: look}",
        "not-sure: listen}",
        REFUSED,
    )


def test_a_look_that_does_not_fit_the_vehicle_opens_nothing(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "  listen:\n    check: whine", "  listen:\n    check: ¦whine")
    world.change("checks/belt.yaml", "    tools: [lamp]\n", "    tools: [lamp]\n    only_for: [solid]\n")
    next_of = "    next: {sound: listen,"
    world.fails("symptoms/whine.yaml", next_of, f"    skip: listen\n{next_of}", REFUSED)
