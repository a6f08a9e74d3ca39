from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_an_end_with_a_reason_passes(world: "SmallWorld") -> None:
    world.passes(
        "symptoms/whine.yaml", "quiet: {end: not-reproduced}", "quiet: {end: not-reproduced, because: It was quiet.}"
    )


def test_two_jobs_are_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  belt: {conclude: [torn-belt]}",
        "  ¦belt: {conclude: [torn-belt], end: undecided}",
        "Node 'belt' has conclude and end. Give it one of check, by_pulley, conclude or end.",
    )


def test_no_job_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  belt: {conclude: [torn-belt]}",
        "  ¦belt: {}",
        "Node 'belt' has nothing to do. Give it one of check, by_pulley, conclude or end.",
    )


def test_ways_on_without_a_check_are_refused(world: "SmallWorld") -> None:
    world.fails(
        "symptoms/whine.yaml",
        "  belt: {conclude: [torn-belt]}",
        "  ¦belt: {conclude: [torn-belt], cannot: quiet}",
        "Node 'belt' has ways on but no check. Take away next, cannot and skip.",
    )
