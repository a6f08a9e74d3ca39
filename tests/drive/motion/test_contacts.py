"""Friction, slip, creep and clutch against what closed forms say of them."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from tests.drive.motion.conftest import (
    RAD_S,
    at_rest,
    drive_of,
    machine_of,
    ramp_event,
    ride,
    seven_text,
    steady_event,
)
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.arm import Pulled, balance
from triage.drive.mechanics.coasting import coast_time
from triage.drive.mechanics.span_tensions import steps_of
from triage.drive.motion.machine import Array, Variant
from triage.drive.motion.starting import steady

OVERRUNNING = (Variant("one-way-clutch"),)


def test_a_steady_drive_stays_where_another_root_solve_puts_it(seven: Drive) -> None:
    machine = machine_of(seven)
    whole = ride(machine, steady_event(750, 0.1, torque_nm=6.0), 2e-4)
    belt_m_s = 750 * RAD_S * float(machine.radii_m[0, 0])
    rotor = belt_m_s / float(machine.radii_m[2, 0])
    torques = [member.load_nm or 0.0 for member in seven.members]
    torques[2] += 0.06 + 5e-7 * rotor**2
    steps = steps_of(torques, machine.radii_m[:, 0].tolist())
    assert seven.route is not None
    assert seven.arm is not None
    own = balance(seven.route, seven.arm, Pulled(steps, 380.0, 0.11 * belt_m_s**2, 150e3))
    tensions = whole.tensions_n[-1, :, 0]
    assert tensions.min() == pytest.approx(min(own.tensions_n), rel=2e-4)
    assert tensions.max() == pytest.approx(max(own.tensions_n), rel=2e-4)
    assert whole.arm_rad[-1, 0] == pytest.approx(own.turn_rad, rel=2e-3)


def test_a_belt_that_grips_creeps_by_its_difference_of_tension_over_stiffness(seven: Drive) -> None:
    machine = machine_of(seven)
    whole = ride(machine, steady_event(750, 0.1, torque_nm=6.0), 2e-4)
    rims, tensions = machine.radii_m[:, 0] * whole.pulleys_rad_s[-1, :, 0], whole.tensions_n[-1, :, 0]
    gained = (rims[3] - rims[2]) / rims[0]
    assert gained == pytest.approx((tensions[2] - tensions[1]) / 150e3, rel=1e-3)


def test_a_seized_idler_stands_still_with_the_ratio_of_tensions_that_friction_gives(
    seven: Drive, seven_with: Callable[..., Drive]
) -> None:
    begun = steady(machine_of(seven), 750 * RAD_S, 6.0)
    seized = machine_of(seven_with(("- {part: idler,", "- {part: idler, torque: 60 N·m,")))
    whole = ride(seized, steady_event(750, 0.2, torque_nm=6.0), 2e-4, begun)
    idler, own = 3, 0.11 * (750 * RAD_S * 0.08) ** 2
    before, after = whole.tensions_n[-1, idler - 1, 0] - own, whole.tensions_n[-1, idler, 0] - own
    assert whole.pulleys_rad_s[-1, idler, 0] == 0
    assert after / before == pytest.approx(seized.grips[idler, 0], rel=1e-5)
    assert seized.grips[idler, 0] == pytest.approx(math.exp(0.35 * seven.route.wraps_rad[idler]))  # type: ignore[union-attr]


def test_a_rotor_behind_a_one_way_clutch_coasts_by_the_tan_law_while_the_engine_slows(seven: Drive) -> None:
    machine = machine_of(seven, OVERRUNNING)
    whole = ride(machine, ramp_event(3000, 750, 2250 / 12000), 1e-4)
    begun, ended = 500, -1
    assert (whole.slide_rad_s[begun:] < 0).all()
    rotor = whole.rotor_rad_s[:, 0]
    to_rest = [coast_time(0.0031, float(rotor[at]), 0.06 + 0.05, 5e-7) for at in (begun, ended)]
    assert to_rest[0] - to_rest[1] == pytest.approx(whole.ends_s[ended] - whole.ends_s[begun], rel=1e-3)


def test_an_isolator_passes_on_the_share_of_a_shake_that_the_textbook_gives(seven: Drive) -> None:
    # Grover: 1/|1 − (f/f₀)²|, seen; f is 25 Hz at 750 r/min, f₀ that of the rotor on its spring.
    machine = machine_of(seven, (Variant("isolator"),), spring_damping_nm_s=0.0, windage_nm_s2=0.0)
    begun = steady(machine, 750 * RAD_S, 6.0)
    through = 1 / (1 - (25 / (math.sqrt(16 / 0.0031) / math.tau)) ** 2)
    # Begun in step with the shake, so that nothing has to die away.
    shake = 2 * math.radians(1) * begun.pulleys_rad_s
    begun.pulleys_rad_s += shake
    begun.rotor_rad_s += through * shake[2]
    whole = ride(machine, steady_event(750, 0.08, ripple_deg=1, torque_nm=6.0), 1e-4, begun)
    swings = [swing(whole.ends_s, one) for one in (whole.rotor_rad_s[:, 0], whole.pulleys_rad_s[:, 2, 0])]
    assert swings[0] / swings[1] == pytest.approx(abs(through), rel=5e-3)


def swing(times: Array, speeds: Array) -> float:
    """Amplitude at 25 Hz over whole periods."""
    return float(np.abs((speeds * np.exp(-1j * math.tau * 25 * times)).sum()))


def test_an_arm_with_dry_friction_loses_the_same_each_period_and_then_stands_exactly_still() -> None:
    # A belt that pulls with next to nothing leaves the arm to its spring: 4·M/k less each period.
    loose = seven_text(("stiffness: 150 kN", "stiffness: 0.01 N"), ("tension: 380 N", "tension: 0.01 N"))
    machine = machine_of(drive_of(loose), arm_friction_nm=1.0)
    state = at_rest(machine)
    state.arm_rad[:] = 0.3
    arm = ride(machine, steady_event(0.0, 0.3), 1e-4, state).arm_rad[:, 0]
    peaks = [at for at in range(1, len(arm) - 1) if arm[at - 1] < arm[at] >= arm[at + 1] and arm[at] > 0.05]
    assert len(peaks) >= 2
    drops = -np.diff([0.3, *arm[peaks]])
    assert drops == pytest.approx(4 * 1.0 / 45, rel=5e-3)
    assert (arm[-500:] == arm[-1]).all()


def test_a_decoupler_that_does_not_overrun_is_an_isolator(seven: Drive) -> None:
    machine = machine_of(seven, (Variant("isolator"), Variant("decoupler")))
    whole = ride(machine, steady_event(750, 0.2, ripple_deg=1, torque_nm=6.0), 2e-4)
    assert whole.joint_nm.min() > -0.3
    assert np.array_equal(whole.tensions_n[:, :, 0], whole.tensions_n[:, :, 1])
    assert np.array_equal(whole.rotor_rad_s[:, 0], whole.rotor_rad_s[:, 1])
