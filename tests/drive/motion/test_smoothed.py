"""The same drive with smoothed laws, carried by a general library's implicit solver: a second opinion."""

import math

import numpy as np
import pytest

from tests.bench.smoothed_drive import SmoothedDrive
from tests.drive.motion.conftest import machine_of, ramp_event, ride, steady_event
from triage.drive.layout.assembly import Drive
from triage.drive.motion.events import Event
from triage.drive.motion.machine import Variant

SECONDS = 0.05
IDLING = steady_event(750, SECONDS, ripple_deg=1, torque_nm=6.0)
SLOWING = ramp_event(3000, 2375, SECONDS, torque_nm=6.0)


@pytest.mark.parametrize(
    ("pulley", "event", "slips"), [("decoupler", IDLING, False), ("solid", IDLING, False), ("solid", SLOWING, True)]
)
def test_arm_and_rotor_go_where_smoothed_laws_take_them(seven: Drive, pulley: str, event: Event, slips: bool) -> None:
    machine = machine_of(seven, (Variant(pulley),))  # type: ignore[arg-type]
    own = ride(machine, event, 1e-4)
    other = SmoothedDrive(machine, event).solve(SECONDS, 41)
    arm, rotor = (np.interp(other.times_s[1:], own.ends_s, one[:, 0]) for one in (own.arm_rad, own.rotor_rad_s))
    assert bool(own.slip_m_s.any()) is slips
    assert arm == pytest.approx(other.arm_rad[1:], abs=math.radians(0.02))
    assert rotor == pytest.approx(other.rotor_rad_s[1:], abs=2 * math.tau / 60)
