"""What ends a confirmation is marked where it is done: the rule about endings."""

from typing import Any

import pytest

STATE = "    minutes: 3\n    state: running\n"
CASES = [
    ("turned", "Have the engine turned over by hand.", "turned over"),
    ("stop", "The assistant switches off at that speed.", "switches off at that speed"),
    ("lifted", "Raise the vehicle first.", "Raise the vehicle"),
    ("driven", "Go for a road test.", "road test"),
    ("ignition-on", "Leave the ignition on.", "ignition on"),
]


@pytest.mark.parametrize(("ending", "step", "words"), CASES, ids=[ending for ending, _, _ in CASES])
def test_a_step_that_ends_something_without_its_mark_is_a_fault(world: Any, ending: str, step: str, words: str) -> None:
    world.change("checks/belt.yaml", STATE, f'    steps: ["{step}"]\n{STATE}')
    world.fails(
        "checks/belt.yaml",
        "  - id: whine-running\n",
        "  - ¦id: whine-running\n",
        f"whine-running does what ends confirmations, '{words}', and is not marked. Add 'does: [{ending}]'.",
    )


@pytest.mark.parametrize(("ending", "step", "_words"), CASES, ids=[ending for ending, _, _ in CASES])
def test_a_step_that_is_marked_passes(world: Any, ending: str, step: str, _words: str) -> None:
    world.passes("checks/belt.yaml", STATE, f'    steps: ["{step}"]\n    does: [{ending}]\n{STATE}')
