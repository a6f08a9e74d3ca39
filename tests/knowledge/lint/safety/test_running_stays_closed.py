from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_stopped_checks_behind_a_torn_belt_pass(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "  belt: {conclude: [torn-belt]}\n", "")
    world.passes("symptoms/whine.yaml", "torn: belt, cannot-tell", "torn: turn, cannot-tell")


def test_a_running_check_behind_a_torn_belt_is_refused(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "  belt: {conclude: [torn-belt]}\n", "")
    world.fails(
        "symptoms/whine.yaml",
        "torn: belt, cannot-tell",
        "torn: ¦listen, cannot-tell",
        "'torn' closes running, "
        "but the running check 'whine-running' comes later. "
        "Lead on to checks with the engine stopped.",
    )


def test_a_running_check_behind_a_look_that_could_not_be_made_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "cannot-tell: unclear}\n    cannot: unclear",
        "cannot-tell: unclear}\n    cannot: ¦listen",
        "Nobody has seen whether the engine may run where 'belt-condition' cannot be done, "
        "but the running check 'whine-running' comes later. "
        "Lead on to checks with the engine stopped.",
    )


def test_a_running_check_behind_a_look_that_told_nothing_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "cannot-tell: unclear}",
        "cannot-tell: ¦listen}",
        "'cannot-tell' leaves open whether the engine may run, "
        "but the running check 'whine-running' comes later. "
        "Lead on to checks with the engine stopped.",
    )
