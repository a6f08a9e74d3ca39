from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_strengths_of_exactly_one_pass(world: "SmallWorld") -> None:
    world.passes("signs.yaml", "{stiff: often, stuck: sometimes}", "{stiff: nearly-always, stuck: seldom}")


def test_strengths_above_one_are_refused(world: "SmallWorld") -> None:
    world.fails(
        "signs.yaml",
        "dry-bearing: {stiff: often, stuck: sometimes}",
        "dry-bearing: ¦{stiff: often, stuck: usually}",
        "The strengths add up to 1.30. Choose weaker words: at most 1.",
    )


def test_a_strength_of_the_normal_level_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "signs.yaml",
        "leak: {stiff: seldom}",
        "leak: {¦free: seldom}",
        "'free' is the normal level and gets what is left. Take it away.",
    )
