from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_causes_that_make_the_complaint_pass(world: "SmallWorld") -> None:
    world.passes("signs.yaml", "      torn-belt: {present: seldom}\n", "      torn-belt: {present: often}\n")


def test_a_cause_that_cannot_make_it_is_refused(world: "SmallWorld") -> None:
    world.change("signs.yaml", "      torn-belt: {present: seldom}\n", "")
    world.fails(
        "symptoms/whine.yaml",
        "conclude: [torn-belt]",
        "conclude: ¦[torn-belt]",
        "Node 'belt' concludes 'torn-belt', which does not produce 'whine-driving'. "
        "Name it in the sign of the symptom, or conclude something else.",
    )
