"""What the four pulley types pass while the engine slows."""

import math

import pytest

from triage.drive.mechanics.overrun import passed_torque, reversal_deceleration
from triage.knowledge.models import PULLEY_TYPES


@pytest.mark.parametrize("pulley", PULLEY_TYPES)
def test_all_types_pass_the_whole_load_while_the_engine_is_steady(pulley: str) -> None:
    assert passed_torque(pulley, 3.0, 0.003, 0.0, 0.2) == 3.0  # type: ignore[arg-type]


def test_a_rotor_that_runs_ahead_drives_the_belt_only_through_a_pulley_that_holds_both_ways() -> None:
    slowing_rad_s2 = 2000.0  # asks the rotor for 6 N·m more than its load
    passed = {pulley: passed_torque(pulley, 3.0, 0.0045, slowing_rad_s2, 0.2) for pulley in PULLEY_TYPES}
    assert passed == {"solid": -6.0, "isolator": -6.0, "one-way-clutch": 0.0, "decoupler": -0.2}


def test_the_torque_is_nil_just_at_the_reversal() -> None:
    ratio = 0.1778 / 0.05394
    slowing_rev_s2 = reversal_deceleration(3.0, 0.00293, ratio)
    rotor_rad_s2 = slowing_rev_s2 * ratio * 2 * math.pi
    assert passed_torque("solid", 3.0, 0.00293, rotor_rad_s2, 0.0) == pytest.approx(0, abs=1e-12)
