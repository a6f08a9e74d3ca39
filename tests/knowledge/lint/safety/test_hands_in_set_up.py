"""Hands go in while the engine stands: the rule about set-ups."""

from typing import Any

RUNNING = "    minutes: 3\n    state: running\n"
SET_UP = "    set_up: {state: stopped, steps: [Clip it on.]}\n"
CLIPPED = "  - {id: clips, name: Clips, hands_in: true}\n"
LAMP = "  - id: lamp\n"


def test_a_tool_that_hands_put_on_is_set_up(world: Any) -> None:
    world.change("tools.yaml", LAMP, CLIPPED + LAMP)
    world.passes("checks/belt.yaml", RUNNING, f"    tools: [clips]\n{RUNNING}{SET_UP}")


def test_a_tool_that_needs_no_hands_in_needs_no_set_up(world: Any) -> None:
    world.change("tools.yaml", LAMP, CLIPPED.replace("true", "false") + LAMP)
    world.passes("checks/belt.yaml", RUNNING, f"    tools: [clips]\n{RUNNING}")


def test_hands_in_without_a_set_up_is_a_fault(world: Any) -> None:
    world.change("tools.yaml", LAMP, CLIPPED + LAMP)
    world.fails(
        "checks/belt.yaml",
        RUNNING,
        "    tools: [clips]\n    minutes: 3\n    state: ¦running\n",
        "Check whine-running runs the engine, and hands go in for 'clips', but it has no set-up. "
        "Say under 'set_up:' what is done first.",
    )


def test_a_tool_of_a_running_check_says_whether_hands_go_in_for_it(world: Any) -> None:
    world.change("checks/belt.yaml", RUNNING, f"    tools: [lamp]\n{RUNNING}")
    world.fails(
        "tools.yaml",
        LAMP,
        "  - ¦id: lamp\n",
        "Check whine-running runs the engine, but 'lamp' does not say whether hands go in for it. "
        "Add 'hands_in: true' or 'hands_in: false'.",
    )


def test_a_set_up_with_the_engine_running_is_a_fault(world: Any) -> None:
    world.fails(
        "checks/belt.yaml",
        RUNNING,
        RUNNING + "    set_up: {state: ¦running, steps: [Clip it on.]}\n",
        "Check whine-running cannot be set up in the state 'running'. "
        "Choose one with the engine stopped and the belt as the check needs it.",
    )


def test_a_set_up_of_a_check_that_is_made_standing_is_a_fault(world: Any) -> None:
    world.fails(
        "checks/belt.yaml",
        "    tools: [lamp]\n",
        "    tools: [lamp]\n    set_up: ¦{state: stopped, steps: [Clip it on.]}\n",
        "Check belt-condition has a set-up, but no running engine. Make it steps of the check.",
    )


def test_a_set_up_in_a_state_that_is_not_there_is_a_fault(world: Any) -> None:
    world.fails(
        "checks/belt.yaml",
        RUNNING,
        RUNNING + "    set_up: {state: ¦stoped, steps: [Clip it on.]}\n",
        "There is no vehicle state 'stoped'. Did you mean 'stopped'?",
    )
