from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

COMPLAINT = """\
  - id: whine-driving
    name: Whine while driving
    produced_by:
      torn-belt: {present: seldom}
      dry-bearing: {present: often}
"""


def test_causes_that_make_the_complaint_pass(world: "SmallWorld") -> None:
    world.passes("signs.yaml", "signs:\n", f"signs:\n{COMPLAINT}")


def test_a_cause_that_cannot_make_it_is_refused(world: "SmallWorld") -> None:
    world.change("signs.yaml", "signs:\n", f"signs:\n{COMPLAINT}")
    world.change("signs.yaml", "      torn-belt: {present: seldom}\n", "")
    world.fails(
        "symptoms/whine.yaml",
        "conclude: [torn-belt]",
        "conclude: ¦[torn-belt]",
        "Node 'belt' concludes 'torn-belt', which does not produce 'whine-driving'. "
        "Name it in the sign of the symptom, or conclude something else.",
    )
