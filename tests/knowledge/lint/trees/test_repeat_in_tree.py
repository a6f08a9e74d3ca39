from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_another_check_of_the_tree_passes(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "repeat: whine-running", "repeat: belt-condition")


def test_a_check_that_the_tree_never_makes_is_named(world: "SmallWorld") -> None:
    world.change(
        "checks/belt.yaml",
        "  - id: whine-running",
        "  - {id: noise, name: Noise, way: ask, question: Any?, why: Because., minutes: 1, state: "
        "anywhere, outcomes: [{id: no-noise, words: None}]}\n"
        "  - id: whine-running",
    )
    world.fails(
        "symptoms/whine.yaml",
        "repeat: whine-running",
        "repeat: ¦noise",
        "No node of this tree makes the check 'noise' that is repeated after a repair. "
        "Known: complaint, "
        "belt-condition, "
        "whine-running, "
        "idler-drag.",
    )
