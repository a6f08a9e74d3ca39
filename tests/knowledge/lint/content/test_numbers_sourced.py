from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_a_number_in_a_check_with_a_source_passes(world: "SmallWorld") -> None:
    world.passes(
        "checks/belt.yaml", "why: A torn belt must not run.", "why: Two in 3 are torn.\n    sources: [trade-practice]"
    )


def test_a_number_in_a_check_without_a_source_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/belt.yaml",
        "why: A torn belt must not run.",
        "why: ¦Two in 3 are torn.",
        "'Two in 3 are torn.' has a number without a source. Add 'sources:'.",
    )


def test_a_number_in_the_words_of_an_outcome_is_seen(world: "SmallWorld") -> None:
    world.fails(
        "checks/belt.yaml",
        "- {id: sound, words: Sound}",
        "- {id: sound, words: ¦Up to 2 cracks}",
        "'Up to 2 cracks' has a number without a source. Add 'sources:'.",
    )


def test_a_number_in_what_cannot_name_a_source_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "causes.yaml",
        "meaning: The grease is gone.",
        "meaning: ¦Gone after 10 years.",
        "'Gone after 10 years.' has a number without a source. Say it without a number.",
    )


def test_a_number_in_the_reason_of_a_node_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "because: Too little is known.",
        "because: ¦Only 2 checks were made.",
        "'Only 2 checks were made.' has a number without a source. Say it without a number.",
    )
