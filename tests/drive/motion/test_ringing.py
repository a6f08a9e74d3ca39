"""A simulated drive rings at the frequencies that stiffness and inertias give, and goes on without friction."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from tests.drive.motion.conftest import SOLID, STILL, Whole, at_rest, drive_of, ride, steady_event
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.rotation import Rotor, stiffness_matrix
from triage.drive.motion.machine import Array, build_machine
from triage.drive.motion.parameters import FreeCrank

# Beikmann, Perkins & Ulsoy 1996: data from memory, frequencies recomputed from them in the reference notes.
FREE_HZ, HELD_HZ = (52.103, 172.131, 608.191), (43.803, 170.319, 606.159)
PUBLISHED = [(hz, False) for hz in FREE_HZ] + [(hz, True) for hz in HELD_HZ]
PERIODS = 1.5
WITHIN = 0.03
"""Phase in a step, in radians: the midpoint rule is then within 8e-5 of a frequency."""

# Closed form for two pulleys: √((2·EA/l)(r₁²/J₁ + r₂²/J₂))/2π centres 0.4 m apart.
TWO = """\
belt: {ribs: 6, mass_per_metre: 0.1 kg/m, stiffness: 170 kN, friction: 0.35}
tension: 300 N
groove_angle: 40 deg
pulleys:
  - {part: crank, at: [0 mm, 0 mm], diameter: 160 mm, diameter_is: pitch, inertia: 0.05 kg·m²}
  - {part: alternator, at: [400 mm, 0 mm], diameter: 60 mm, diameter_is: pitch, inertia: 0.003 kg·m², torque: 0 N·m}
engine: {turns: clockwise, cylinders: 4, idle: 750 rpm}
"""


def shape(drive: Drive, hz: float, *, held: bool) -> Array:
    """Speeds of pulleys and arm in the mode that is nearest to a frequency."""
    assert drive.route is not None
    assert drive.arm is not None
    inertias = tuple(member.inertia_kg_m2 or 0.0 for member in drive.members)
    rotor = Rotor(drive.route, inertias, drive.stiffness_n or 0.0, drive.tension_n or 0.0, drive.arm)
    scale = 1 / np.sqrt(np.array([*inertias, drive.arm.inertia_kg_m2]))
    first = 1 if held else 0
    squares, modes = np.linalg.eigh((stiffness_matrix(rotor) * np.outer(scale, scale))[first:, first:])
    nearest = np.abs(np.sqrt(np.abs(squares)) / math.tau - hz).argmin()
    speeds: Array = np.concatenate([np.zeros(first), modes[:, nearest]]) * scale
    largest: float = np.abs(speeds).max()
    return speeds / largest


def frequency(times: Array, speeds: Array) -> float:
    """From the zero crossings of a speed that begins at its peak."""
    at = np.flatnonzero(np.diff(np.sign(speeds)) != 0)
    crossings = times[at] + (times[1] - times[0]) * speeds[at] / (speeds[at] - speeds[at + 1])
    return float((len(crossings) - 1) / 2 / (crossings[-1] - crossings[0]))


def rung(drive: Drive, hz: float, *, held: bool) -> tuple[Whole, int]:
    """Let one mode go, gently, and say which pulley swings most."""
    speeds = shape(drive, hz, held=held) * 0.01
    machine = build_machine(drive, STILL, SOLID)
    state = at_rest(machine)
    state.pulleys_rad_s[:, 0], state.arm_rad_s[0] = speeds[:-1], speeds[-1]
    event = replace(steady_event(0.0, PERIODS / hz), free_crank=not held)
    whole = ride(machine, event, WITHIN / (math.tau * hz), state)
    return whole, int(np.abs(speeds[:-1]).argmax())


@pytest.mark.parametrize(("hz", "held"), PUBLISHED)
def test_the_published_drive_rings_at_its_frequencies(
    reference_with: Callable[..., Drive], hz: float, held: bool
) -> None:
    drive = reference_with(("torque: 3 N·m", "torque: 0 N·m"))
    whole, at = rung(drive, hz, held=held)
    assert frequency(whole.ends_s, whole.pulleys_rad_s[:, at, 0]) == pytest.approx(hz, rel=2e-4)


def two_pulleys(seconds: float, step_s: float) -> tuple[Whole, float, float]:
    """Two pulleys swinging against each other, with the energy before and after."""
    crank = FreeCrank(inertia_kg_m2=0.05, friction_nm=0.0, compression_nm=0.0)
    machine = build_machine(drive_of(TWO), replace(STILL, crank=crank), SOLID)
    state = at_rest(machine)
    state.pulleys_rad_s[:, 0] = 0.01 * (0.003 * 0.08) / (0.05 * 0.03), -0.01

    def energy() -> float:
        moving = machine.inertias_kg_m2 * state.pulleys_rad_s**2 / 2
        return float((moving + machine.rates_n_m * state.stretch_m**2 / 2).sum())

    before = energy()
    whole = ride(machine, replace(steady_event(0.0, seconds), free_crank=True), step_s, state)
    return whole, before, energy()


def test_two_pulleys_ring_as_the_closed_form_says() -> None:
    whole, _, _ = two_pulleys(1.5 / 96.3743, 4e-5)
    assert frequency(whole.ends_s, whole.pulleys_rad_s[:, 1, 0]) == pytest.approx(96.3743, rel=1e-4)


def test_without_damping_an_amplitude_is_kept_over_190_periods() -> None:
    _, before, after = two_pulleys(190 / 96.3743, 1e-3)
    assert math.sqrt(after / before) == pytest.approx(1.0, abs=1e-5)
