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


def test_a_look_that_could_not_be_made_opens_nothing(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "  listen:\n    check: whine", "  listen:\n    check: ¦whine")
    world.fails(
        "symptoms/whine.yaml",
        "cannot-tell: unclear}\n    cannot: unclear",
        "cannot-tell: unclear}\n    cannot: listen",
        REFUSED,
    )


def test_a_look_that_tells_nothing_opens_nothing(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "  listen:\n    check: whine", "  listen:\n    check: ¦whine")
    world.fails(
        "symptoms/whine.yaml",
        "cannot-tell: unclear}",
        "cannot-tell: listen}",
        REFUSED,
    )
