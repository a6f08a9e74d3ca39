"""The shipped interlocks hold what docs/safety.md promises for each vehicle state."""

from pathlib import Path
from typing import TypeVar

import pytest

from triage.documents import Document, Model, build
from triage.documents.reading import read_document
from triage.knowledge.models import Confirmation, Hazard, VehicleState
from triage.knowledge.shipped import trees_folder

M = TypeVar("M", bound=Model)
SAFETY_PAGE = Path(__file__).resolve().parents[2] / "docs" / "safety.md"

ALWAYS = {
    "parking-brake",
    "wheels-chocked",
    "park-or-neutral",
    "remote-start-off",
    "fire-extinguisher",
    "eye-protection",
}
HANDS_IN = ALWAYS | {"raised-and-secured", "all-at-rest", "key-put-away", "hot-parts", "tensioner-spring"}
ISOLATED = {
    "access-before-isolation",
    "every-battery-isolated",
    "restraint-wait",
    "no-metal-on-hands",
}
CONNECTED = {"no-bar-at-alternator", "fans-can-start"}
RUNNING = ALWAYS | {
    "nobody-under",
    "exhaust-extraction",
    "nothing-loose",
    "bare-hands",
    "bay-clear",
    "ear-protection",
    "at-the-key",
    "stop-start-off",
    "outside-the-bay",
    "beside-the-drive",
    "instruments-secured",
    "no-listening-rod",
    "battery-leads-stay",
}
WITHOUT_BELT = {"maker-allows-belt-off", "engine-cold", "belt-out-of-bay", "short-idle-only"}
PROMISED = {
    "stopped": HANDS_IN | CONNECTED,
    "isolated": HANDS_IN | ISOLATED,
    "belt-off": HANDS_IN | CONNECTED,
    "isolated-belt-off": HANDS_IN | ISOLATED,
    "running": RUNNING,
    "running-belt-off": RUNNING | WITHOUT_BELT,
}


def items(section: str, model: type[M]) -> list[M]:
    document: Document = read_document(trees_folder() / "interlocks.yaml")
    assert isinstance(document.data, dict)
    return [build(document, model, (section, position)) for position in range(len(document.data[section]))]


@pytest.fixture(scope="module")
def confirmations() -> dict[str, Confirmation]:
    return {confirmation.id: confirmation for confirmation in items("confirmations", Confirmation)}


@pytest.fixture(scope="module")
def states() -> dict[str, VehicleState]:
    return {state.id: state for state in items("states", VehicleState)}


def test_every_vehicle_state_holds_the_confirmations_promised_for_it(states: dict[str, VehicleState]) -> None:
    assert set(states) == set(PROMISED)
    missing = {state_id: promised - set(states[state_id].confirmations) for state_id, promised in PROMISED.items()}
    assert not any(missing.values()), missing


def test_nobody_is_near_the_bay_in_a_state_with_the_engine_running(states: dict[str, VehicleState]) -> None:
    assert all((state.engine == "running") == (state.near == "outside-bay") for state in states.values())


def test_what_was_apart_is_confirmed_before_any_state_that_needs_it_whole(
    states: dict[str, VehicleState], confirmations: dict[str, Confirmation]
) -> None:
    for state in states.values():
        after = [tuple(confirmations[each].after.items()) for each in state.confirmations if confirmations[each].after]
        assert ((("belt", "removed"),) in after) == (state.belt == "fitted"), state.id
        assert ((("battery", "isolated"),) in after) == (state.battery == "connected"), state.id


def test_only_the_run_without_belt_is_limited_and_it_is_limited_in_every_way(states: dict[str, VehicleState]) -> None:
    for state in states.values():
        limits = (state.run_limit, state.runs, state.cold_after)
        if state.engine == "running" and state.belt == "removed":
            assert state.run_limit is not None
            assert state.cold_after is not None
            assert (state.run_limit.text, state.runs) == ("30 s", 2)
        else:
            assert limits == (None, None, None), state.id


def test_whoever_is_at_the_key_is_named(confirmations: dict[str, Confirmation]) -> None:
    assert [each.id for each in confirmations.values() if each.names] == ["at-the-key"]


def test_only_what_stays_where_it_is_put_is_asked_once(confirmations: dict[str, Confirmation]) -> None:
    assert [each.id for each in confirmations.values() if each.once] == ["fire-extinguisher"]


def test_only_what_keeps_the_vehicle_in_its_place_goes_along_into_another_state(
    confirmations: dict[str, Confirmation],
) -> None:
    carried = [each.id for each in confirmations.values() if each.carries]
    assert carried == ["parking-brake", "wheels-chocked", "park-or-neutral"]
    assert {confirmations[each].hazard for each in carried} == {"rolling-away"}


def test_every_confirmation_is_asked_somewhere_and_every_hazard_is_confirmed(
    states: dict[str, VehicleState], confirmations: dict[str, Confirmation]
) -> None:
    assert {each for state in states.values() for each in state.confirmations} == set(confirmations)
    assert {each.hazard for each in confirmations.values()} == {hazard.id for hazard in items("hazards", Hazard)}


def test_the_hazard_log_puts_every_confirmation_beside_its_hazard(confirmations: dict[str, Confirmation]) -> None:
    rows = {row.split("`")[1]: row for row in SAFETY_PAGE.read_text("utf-8").splitlines() if row.startswith("| `")}
    for confirmation in confirmations.values():
        assert f"`{confirmation.id}`" in rows[confirmation.hazard], confirmation.id
