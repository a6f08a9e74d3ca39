from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_two_causes_pass(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "conclude: [dry-bearing]", "conclude: [dry-bearing, torn-belt]")


def test_the_same_cause_twice_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "conclude: [dry-bearing]",
        "conclude: ¦[dry-bearing, dry-bearing]",
        "Node 'bearing' concludes the same cause twice. Take one away.",
    )


def test_three_causes_are_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "conclude: [dry-bearing]",
        "conclude: ¦[dry-bearing, torn-belt, torn-belt]",
        "Node 'bearing' concludes 3 causes. Add a check that tells them apart, or end undecided.",
    )
