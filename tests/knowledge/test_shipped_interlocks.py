"""The shipped interlocks hold what docs/safety.md promises for each vehicle state."""

from pathlib import Path
from typing import TypeVar

import pytest

from triage.documents import Document, Model, build
from triage.documents.reading import read_document
from triage.knowledge.groups import ENDED_BY
from triage.knowledge.models import Confirmation, Hazard, VehicleState
from triage.knowledge.shipped import trees_folder

M = TypeVar("M", bound=Model)
SAFETY_PAGE = Path(__file__).resolve().parents[2] / "docs" / "safety.md"

ALWAYS = {"cannot-roll", "support", "air-and-fire", "people", "starts-itself"}
HANDS_IN = ALWAYS | {"still", "key-kept", "same-as-before"}
ISOLATED = {"access-saved", "leads-off", "proved-dead"}
RUNNING = ALWAYS | {"bay-clear", "everyone-out", "at-the-key", "same-as-before"}
PROMISED = {
    "stopped": HANDS_IN | {"start-tried"},
    "isolated": HANDS_IN | ISOLATED,
    "belt-off": HANDS_IN | {"start-tried"},
    "isolated-belt-off": HANDS_IN | ISOLATED,
    "running": RUNNING | {"alone"},
    "running-belt-off": RUNNING | {"maker-allows-belt-off", "belt-out-of-bay"},
}
SHOWN = {"unexpected-fan", "spring-release", "voltage-surge"}
"""Hazards against which one behaves: a click proves nothing there."""
LEAVING = {"nothing-left"}


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


def test_whoever_is_at_the_key_is_named_and_what_is_isolated_proved_dead(
    confirmations: dict[str, Confirmation],
) -> None:
    proved = {each.id: each.proof for each in confirmations.values() if each.proof}
    assert proved == {"at-the-key": "name", "started-again": "word", "proved-dead": "dead"}


def test_a_line_holds_at_most_three_things_and_says_which(confirmations: dict[str, Confirmation]) -> None:
    assert all(len(each.things) <= 3 for each in confirmations.values())


def test_nobody_who_is_alone_runs_an_engine_without_its_belt(states: dict[str, VehicleState]) -> None:
    assert "alone" not in states["running-belt-off"].confirmations


def test_every_line_is_asked_somewhere_and_every_hazard_is_confirmed_or_shown(
    states: dict[str, VehicleState], confirmations: dict[str, Confirmation]
) -> None:
    asked = {each for state in states.values() for each in state.confirmations}
    again = {each.id for each in confirmations.values() if each.instead_of}
    assert asked | again | LEAVING == set(confirmations)
    kept = {hazard for each in confirmations.values() for hazard in each.hazards}
    shown = {hazard for state in states.values() for hazard in state.shown}
    assert shown >= SHOWN
    assert kept | shown == {hazard.id for hazard in items("hazards", Hazard)}


def test_the_hazard_log_says_of_every_line_what_it_protects_from(confirmations: dict[str, Confirmation]) -> None:
    rows = {row.split("`")[1]: row for row in SAFETY_PAGE.read_text("utf-8").splitlines() if row.startswith("| `")}
    for confirmation in confirmations.values():
        row = rows[confirmation.group or ""]
        assert f"`{confirmation.id}`" in row, confirmation.id
        assert all(hazard in row for hazard in confirmation.hazards), confirmation.id


def test_the_hazard_log_says_of_every_group_what_ends_it() -> None:
    rows = {row.split("`")[1]: row for row in SAFETY_PAGE.read_text("utf-8").splitlines() if row.startswith("| `")}
    for group, endings in ENDED_BY.items():
        assert all(f"*{ending}*" in rows[group] for ending in endings), group
