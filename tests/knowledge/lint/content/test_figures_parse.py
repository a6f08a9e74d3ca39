from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_a_range_of_torques_passes(world: "SmallWorld") -> None:
    world.passes("remedies.yaml", "text: 40 to 50 N·m", "text: 35 to 45 lbf·ft")


def test_a_deviation_that_is_no_percentage_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "tools.yaml",
        "text: 4 %",
        "text: ¦4 N",
        "“N” is a unit of a force, not of a plain number. A plain number is written with no unit or %.",
    )


def test_a_bare_number_is_no_percentage(world: "SmallWorld") -> None:
    world.fails("tools.yaml", "{text: 4 %", "{text: ¦'4'", "'4' is no percentage. Write it like 4 %.")


def test_a_deviation_of_a_tool_that_measures_nothing_is_refused(world: "SmallWorld") -> None:
    world.fails(
        "tools.yaml",
        "name: Inspection lamp",
        "name: Inspection lamp\n    absolute: {text: ¦1 mm, source: trade-practice}",
        "The tool has a deviation but measures nothing. Add 'measures:' and a kind.",
    )


def test_hours_of_a_remedy_are_a_time(world: "SmallWorld") -> None:
    world.fails(
        "remedies.yaml",
        "state: stopped",
        "state: stopped\n    hours: {text: ¦5 mm, source: trade-practice}",
        "“mm” is a unit of a length, not of a time. A time is written with s, ms, min or h.",
    )


def test_what_is_allowed_below_zero_is_of_the_readings_kind(world: "SmallWorld") -> None:
    refused = "below_zero: {why: Too low., instead: Again., allowed: {text: ¦1 mm, source: trade-practice}}"
    world.fails(
        "checks/idler.yaml",
        "zones:\n",
        f"{refused}\n      zones:\n",
        "“mm” is a unit of a length, not of a torque. A torque is written with N·m, lbf·in, lbf·ft, N·cm or kgf·m.",
    )
