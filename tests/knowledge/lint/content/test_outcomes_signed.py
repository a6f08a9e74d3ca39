from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_an_outcome_that_is_normal_on_one_pulley_needs_no_sign(world: "SmallWorld") -> None:
    world.passes(
        "checks/belt.yaml",
        "{id: whines, words: It whines, sign: whine}",
        "{id: whines, words: It whines}\n    normal_for: {decoupler: whines}",
    )


def test_an_abnormal_outcome_without_a_sign_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/belt.yaml",
        "- {id: whines, words: It whines, sign: whine}",
        "- ¦{id: whines, words: It whines}",
        "Outcome 'whines' of whine-running shows no sign. Add 'sign:', or 'says_nothing: true'.",
    )


def test_a_sign_that_says_nothing_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/belt.yaml",
        "- {id: whines, words: It whines, sign: whine}",
        "- ¦{id: whines, words: It whines, sign: whine, says_nothing: true}",
        "Outcome 'whines' shows a sign and says nothing. Take away one of 'sign' and 'says_nothing'.",
    )
