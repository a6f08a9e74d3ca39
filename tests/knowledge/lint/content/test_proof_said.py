from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

ASKED = "repeat: whine-running\ncomplaint: {met: noise, under: noise, now: whine-running}"


def test_without_a_complaint_nothing_need_be_said(world: "SmallWorld") -> None:
    world.passes("symptoms/whine.yaml", "repeat: whine-running", "repeat: whine-running")


def test_an_outcome_that_leaves_open_what_it_proves_is_refused(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "repeat: whine-running", ASKED)
    said = [str(fault) for fault in world.faults()]
    assert any("Outcome 'whines' of whine-running does not say what it proves." in one for one in said), said


def test_an_outcome_that_leaves_out_a_pulley_is_refused(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "repeat: whine-running", ASKED)
    world.change(
        "checks/belt.yaml",
        "{id: whines, words: It whines, sign: whine}",
        "{id: whines, words: It whines, sign: whine, as_proof: {solid: disproves}}",
    )
    said = [str(fault) for fault in world.faults()]
    assert any("'whines' of whine-running does not say what it proves with a pulley 'isolator'" in one for one in said)
