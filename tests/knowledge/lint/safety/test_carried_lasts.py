from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

CLEAR = "    why: The belt is about to move.\n    hazard: moving-belt\n"
CARRIED = CLEAR + "    carries: true\n"
EVERYWHERE = "    confirmations: [key-out]\n"


def everywhere(world: "SmallWorld", thing: str = CARRIED) -> None:
    """Let both vehicle states ask whether everybody is clear, beside something else."""
    world.change("interlocks.yaml", EVERYWHERE, "    confirmations: [still, hands-out]\n")
    world.change("interlocks.yaml", "    confirmations: [hands-out]\n", "    confirmations: [still, hands-out]\n")
    still = "  - {id: still, ask: Is all still?, why: Rotors coast on., hazard: moving-belt}\n"
    world.change("interlocks.yaml", "confirmations:\n  - id: key-out", f"confirmations:\n{still}  - id: key-out")
    world.change("interlocks.yaml", CLEAR, thing)


def test_what_every_vehicle_state_asks_may_be_carried(world: "SmallWorld") -> None:
    everywhere(world)
    assert world.faults() == []


@pytest.mark.parametrize(
    ("besides", "why"),
    [
        ("names: true", "its answer is a name"),
        ("after: {engine: running}", "it is asked only of a vehicle that was apart"),
        ("once: true", "it is asked only once as it is"),
    ],
)
def test_what_must_be_asked_each_time_cannot_be_carried(world: "SmallWorld", besides: str, why: str) -> None:
    everywhere(world)
    world.fails(
        "interlocks.yaml",
        CARRIED,
        f"{CLEAR}    {besides}\n    carries: ¦true\n",
        f"The confirmation hands-out cannot be carried: {why}. Let it be asked each time.",
    )


def test_what_belongs_to_some_vehicle_states_only_cannot_be_carried(world: "SmallWorld") -> None:
    everywhere(world, CLEAR)
    world.change(
        "interlocks.yaml", "hands-in\n    confirmations: [still, hands-out]", "hands-in\n    confirmations: [still]"
    )
    world.fails(
        "interlocks.yaml",
        CLEAR,
        CLEAR + "    carries: ¦true\n",
        "The confirmation hands-out cannot be carried: it says nothing about the vehicle state stopped."
        " Let it be asked each time.",
    )


@pytest.mark.parametrize("other", ["", "key-out, "])
def test_no_state_is_entered_on_what_was_said_before(world: "SmallWorld", other: str) -> None:
    everywhere(world)
    world.change("interlocks.yaml", "near: hands-in\n    confirmations: [still, hands-out]", "near: hands-in\n    A")
    world.fails(
        "interlocks.yaml",
        "A\n",
        f"confirmations: ¦[{other}hands-out]\n",
        "The vehicle state stopped could be entered without asking anything. List something that is asked each time.",
    )
