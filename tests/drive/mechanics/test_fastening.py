"""The loosening direction is found here a second way: by moving points of two helices and watching them."""

import math
from typing import get_args

import pytest

from triage.drive.mechanics.fastening import Thread, Turned, TurningSense, loosening_turn

LEAD_M = 0.0015
STEP_RAD = 0.1


def ridge_height(thread: Thread, angle_rad: float) -> float:
    """Height of the shaft's ridge at an angle, z towards the viewer: a right-hand helix climbs as x turns to y."""
    rise = LEAD_M * angle_rad / (2 * math.pi)
    return rise if thread == "right" else -rise


def hub_travel(thread: Thread, hub_rad: float, shaft_rad: float) -> float:
    """How far the hub must shift along z so that its groove still lies on the ridge after both have turned."""
    groove_angle = 0.7
    before = ridge_height(thread, groove_angle)
    under_the_groove_now = ridge_height(thread, groove_angle + hub_rad - shaft_rad)
    return under_the_groove_now - before


def seen_from_the_front(rotation_rad: float) -> TurningSense:
    """Watch the mark at twelve o'clock: the viewer stands at +z, x to the right, y up."""
    start = math.pi / 2
    moved_right = math.cos(start + rotation_rad) > 1e-9
    return "clockwise" if moved_right else "counter-clockwise"


@pytest.mark.parametrize("thread", get_args(Thread))
@pytest.mark.parametrize("turned", get_args(Turned))
def test_the_pulley_comes_off_the_way_two_helices_say(thread: Thread, turned: Turned) -> None:
    ways = {}
    for rotation in (STEP_RAD, -STEP_RAD):
        hub, shaft = (rotation, 0.0) if turned == "hub" else (0.0, rotation)
        ways[hub_travel(thread, hub, shaft) > 0] = seen_from_the_front(rotation)
    assert loosening_turn(thread, turned) == ways[True]


def test_a_right_hand_hub_comes_off_counter_clockwise_with_the_shaft_held() -> None:
    assert loosening_turn("right", "hub") == "counter-clockwise"


def test_turning_the_shaft_instead_of_the_hub_turns_the_answer_round() -> None:
    assert loosening_turn("right", "shaft") == "clockwise"


def test_a_left_hand_thread_is_the_mirror_image() -> None:
    assert loosening_turn("left", "hub") == "clockwise"
    assert loosening_turn("left", "shaft") == "counter-clockwise"
