from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

BEFORE = "causes:\n"


def circumstance(odds: str) -> str:
    words = f"{{id: c, words: So, source: trade-practice, answered: {{complaint: always}}, odds: {odds}}}"
    return f"circumstances:\n  - {words}\ncauses:\n"


def test_an_answer_may_shift_a_cause_of_which_it_is_no_sign(world: "SmallWorld") -> None:
    world.passes("causes.yaml", BEFORE, circumstance("{torn-belt: less-likely}"))


def test_an_answer_that_is_a_sign_of_a_cause_does_not_shift_it_too(world: "SmallWorld") -> None:
    world.fails(
        "causes.yaml",
        BEFORE,
        circumstance("{¦dry-bearing: likelier}"),
        "'complaint' counts for 'dry-bearing' already, by a sign that the cause produces. Leave it out here, or there.",
    )
