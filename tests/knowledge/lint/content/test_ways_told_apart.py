from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

FILE = "checks/idler.yaml"
LAST = "      instrument: torque-wrench\n"


def by_length(*parts: str, way: str = "by-length", mark: str = "¦") -> str:
    listed = "".join(f"            - {{{part}}}\n" for part in parts)
    return (
        f"{LAST}      other_ways:\n        - {mark}id: {way}\n          instrument: torque-wrench\n"
        f"          formula: made-up\n          parts:\n{listed}"
    )


LENGTH = "id: arm, kind: length, ask: Length of the arm"
OTHER = "id: pull, kind: torque, ask: Pull"


def test_ways_that_begin_with_different_kinds_pass(world: "SmallWorld") -> None:
    ribs = "id: ribs, kind: number, ask: Ribs, as_typed: true, from_layout: ribs"
    world.passes(FILE, LAST, by_length(LENGTH, OTHER, ribs, mark=""))


def test_ways_that_begin_alike_cannot_be_told_apart(world: "SmallWorld") -> None:
    world.fails(
        FILE,
        LAST,
        by_length(OTHER),
        "Two ways to idler-drag begin with a part of kind 'torque'. Begin with what nobody types for the other way.",
    )


def test_the_way_of_the_reading_itself_has_the_empty_id(world: "SmallWorld") -> None:
    world.fails(
        FILE,
        LAST,
        by_length(LENGTH, OTHER, way="''"),
        "The id '' does not tell this way from the others. Give it its own.",
    )


def test_the_first_part_is_measured_at_the_vehicle(world: "SmallWorld") -> None:
    world.fails(
        FILE,
        LAST,
        by_length(LENGTH + ", from_layout: ¦longest-span", OTHER, mark=""),
        "What is typed first cannot come from a layout. Let something measured come first.",
    )


def test_a_layout_fills_a_part_of_its_own_kind_only(world: "SmallWorld") -> None:
    world.fails(
        FILE,
        LAST,
        by_length(LENGTH, OTHER + ", from_layout: ¦ribs", mark=""),
        "'ribs' is of kind 'number', the part of kind 'torque'. Name what fits the part.",
    )
