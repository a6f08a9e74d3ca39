from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_an_outcome_that_says_nothing_is_no_level(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "stuck: bearing}", "stuck: bearing, not-sure: unclear}")
    world.passes(
        "checks/idler.yaml",
        "- {id: stuck, words: Will not turn}",
        "- {id: stuck, words: Will not turn}\n      - {id: not-sure, words: Not sure, says_nothing: true}",
    )


def test_outcomes_that_are_not_the_levels_are_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "sign: drag",
        "sign: ¦whine",
        "The outcomes of idler-drag (free, stiff, stuck) are not the levels of whine. They are: absent, present.",
    )
