from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_two_parts_with_a_formula_pass(world: "SmallWorld") -> None:
    world.passes(
        "checks/idler.yaml",
        "        - {id: steady, kind: torque, ask: Steady torque}",
        "        - {id: steady, kind: torque, ask: Steady torque}\n"
        "        - {id: rotor, kind: torque, ask: Rotor alone}\n"
        "      formula: difference",
    )


def test_a_lamp_measures_no_torque(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "instrument: torque-wrench",
        "instrument: ¦lamp",
        "The instrument 'lamp' measures nothing, not torque. Name the instrument of the typed part.",
    )


def test_two_parts_without_a_formula_are_refused(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "        - {id: steady, kind: torque, ask: Steady torque}",
        "        ¦- {id: steady, kind: torque, ask: Steady torque}\n"
        "        - {id: rotor, kind: torque, ask: Rotor alone}",
        "The reading of idler-drag has 2 parts and no formula. Add 'formula:', or leave one part.",
    )


def test_a_part_of_its_own_instrument_is_looked_at_by_itself(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "        - {id: steady, kind: torque, ask: Steady torque}",
        "        - {id: steady, kind: torque, ask: Steady torque}\n"
        "        - {id: arm, kind: length, ask: Arm, instrument: ¦torque-wrench}\n"
        "      formula: made-up",
        "The instrument 'torque-wrench' measures torque, not length. Name the instrument of the typed part.",
    )


def test_another_way_is_looked_at_like_the_reading(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "      instrument: torque-wrench\n",
        "      instrument: torque-wrench\n"
        "      other_ways:\n"
        "        - {id: note, parts: ¦[{id: note, kind: time, ask: Time}, {id: pull, kind: torque, ask: Pull}],"
        " instrument: torque-wrench}\n",
        "The reading of idler-drag has 2 parts and no formula. Add 'formula:', or leave one part.",
    )
