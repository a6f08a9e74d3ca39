from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_checks_after_the_work_may_need_the_engine(world: "SmallWorld") -> None:
    world.passes("remedies.yaml", "repeat: [belt-condition]", "repeat: [belt-condition, whine-running]")


def test_work_beside_a_running_engine_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "remedies.yaml",
        "state: stopped",
        "state: ¦running",
        "Remedy renew-belt is done in 'running', with the engine running. Choose a state with the engine stopped.",
    )
