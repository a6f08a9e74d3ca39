from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_limits_in_two_units_pass(world: "SmallWorld") -> None:
    world.passes("checks/idler.yaml", "text: 2 N·m", "text: 15 lbf·in")


def test_a_limit_below_the_one_before_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "text: 2 N·m",
        "text: ¦80 N·cm",
        "The limit 80 N·cm is not above the one before. Let the limits rise.",
    )


def test_a_last_zone_with_a_limit_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "- outcome: stuck",
        "- outcome: stuck\n          ¦below: {text: 5 N·m, source: trade-practice}",
        "The last zone, 'stuck', has a limit; nothing is beyond it. Take 'below' away, or add a zone.",
    )


def test_a_zone_without_a_limit_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "- outcome: stiff\n          below: {text: 2 N·m, source: trade-practice}",
        "- ¦outcome: stiff",
        "Zone 'stiff' has no limit. Add 'below:'.",
    )


def test_no_zone_at_all_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "zones:\n"
        "        - outcome: free\n"
        "          below: {text: 1 N·m, source: trade-practice}\n"
        "        - outcome: stiff\n"
        "          below: {text: 2 N·m, source: trade-practice}\n"
        "        - outcome: stuck",
        "zones: ¦[]",
        "The reading of idler-drag has no zones. Add at least one.",
    )
