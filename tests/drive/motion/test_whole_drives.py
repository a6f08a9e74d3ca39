"""What holds of any drive in any event: pulls only, stops, drag, mirrors, and no energy out of nothing."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from tests.drive.motion.conftest import (
    RAD_S,
    Whole,
    drive_of,
    machine_of,
    ramp_event,
    ride,
    seven_text,
    steady_event,
)
from triage.drive.layout.assembly import Drive
from triage.drive.motion.events import Wish
from triage.drive.motion.machine import Array, Machine, Variant
from triage.drive.motion.parameters import FreeCrank, Parameters
from triage.drive.motion.simulating import Question, simulate
from triage.drive.motion.starting import steady

EVERY = tuple(Variant(pulley) for pulley in ("solid", "isolator", "one-way-clutch", "decoupler"))


def test_a_belt_never_pushes_and_an_arm_never_passes_its_stops(seven_with: Callable[..., Drive]) -> None:
    machine = machine_of(seven_with(("tension: 380 N", "tension: 60 N")), EVERY, arm_friction_nm=0.0, arm_stop_rad=0.02)
    whole = ride(machine, ramp_event(3000, 750, 0.1, torque_nm=6.0), 2e-4)
    assert whole.tensions_n.min() == 0
    assert np.abs(whole.arm_rad).max() == pytest.approx(0.02, abs=1e-12)


def mirrored(text: str) -> list[tuple[str, str]]:
    """Changes that mirror the layout's places left to right."""
    places = [line.split("at: [")[1].split(" mm")[0] for line in text.splitlines() if "at: [" in line]
    return [(f"at: [{x} mm", f"at: [{-int(x)} mm") for x in places if x != "0"]


def test_a_list_in_either_direction_and_a_mirrored_drive_are_the_same_drive(
    seven: Drive, seven_with: Callable[..., Drive]
) -> None:
    text = seven_text()
    rows = text.split("pulleys:\n")[1].split("\ntensioner:")[0].strip("\n")
    crank, *others = ["  - " + row for row in rows.removeprefix("  - ").split("\n  - ")]
    backwards = drive_of(text.replace(rows, "\n".join([crank, *reversed(others)])))
    left_right = seven_with(
        *mirrored(text), ("pivot: [-105 mm", "pivot: [105 mm"), ("turns: clockwise", "turns: anticlockwise")
    )
    event = ramp_event(1500, 750, 0.1, torque_nm=6.0)
    wholes = [ride(machine_of(one, EVERY), event, 2e-4) for one in (seven, backwards, left_right)]
    for other in wholes[1:]:
        assert other.tensions_n == pytest.approx(wholes[0].tensions_n, rel=1e-6, abs=1e-6)
        assert np.abs(other.arm_rad) == pytest.approx(np.abs(wholes[0].arm_rad), abs=1e-9)


def energy(machine: Machine, whole: Whole, at: int, stretches: Array) -> float:
    """All that is stored at the end of a step: what moves, the belt, the arm's spring."""
    moving = machine.inertias_kg_m2[1:, 0] * whole.pulleys_rad_s[at, 1:, 0] ** 2 / 2
    return float(moving.sum() + (machine.rest_n * stretches + machine.rates_n_m[:, 0] * stretches**2 / 2).sum())


def test_what_the_crank_gives_is_what_loads_take_and_what_is_stored(seven_with: Callable[..., Drive]) -> None:
    # Fixed centres and a solid pulley: belt and inertias store, loads, fan, bearings and slip take.
    fixed = (
        "tensioner: {pulley: tensioner, pivot: [-105 mm, 210 mm], arm_inertia: 0.0016 kg·m², stiffness: 45 N·m/rad}\n",
        "",
    )
    drive = seven_with(fixed, ("part: tensioner", "part: idler-lower"))
    machine = machine_of(drive, span_damping_s=0.0, creep=False)
    state = steady(machine, 750 * RAD_S, 6.0)
    before_speeds, before_stretch = state.pulleys_rad_s[:, 0].copy(), state.stretch_m[:, 0].copy()
    step_s = 2e-4
    whole = ride(machine, steady_event(750, 0.05, ripple_deg=1, torque_nm=6.0), step_s, state)
    assert whole.slip_m_s.any()
    speeds = np.concatenate([[before_speeds], whole.pulleys_rad_s[:, :, 0]])
    middle = (speeds[1:] + speeds[:-1]) / 2
    middle[:, 0] = whole.pulleys_rad_s[:, 0, 0]
    tensions = whole.tensions_n[:, :, 0]
    given = -(machine.radii_m[0, 0] * middle[:, 0] * (tensions[:, 0] - tensions[:, -1])).sum() * step_s
    loads = machine.loads_nm[:, 0].copy()
    loads[2] = 6.06
    taken = (middle @ loads + 5e-7 * middle[:, 2] ** 3).sum() * step_s
    taken += (whole.slip_m_s[:, :, 0] * (tensions - np.roll(tensions, 1, axis=1))).sum() * step_s
    first = Whole(*whole)._replace(pulleys_rad_s=speeds[:1, :, None])
    stored = energy(machine, whole, -1, state.stretch_m[:, 0]) - energy(machine, first, 0, before_stretch)
    assert abs(stored) > 1
    assert given == pytest.approx(taken + stored, rel=1e-5)


def test_more_drag_makes_a_shorter_coast(seven: Drive) -> None:
    coasts = []
    crank = FreeCrank(inertia_kg_m2=0.02)
    for drag in (0.1, 0.3):
        parameters = Parameters(rotor_drag_nm=drag, ripple_order=2.0, crank=crank)
        question = Question("switch-off", (Variant("one-way-clutch"),), Wish(rpm=300 * RAD_S))
        answer = simulate(seven, parameters, question)
        coasts.append(answer.figures[0].coast_s or 0.0)
    assert coasts[0] > coasts[1] > 0
    assert math.isclose(coasts[0] / coasts[1], 0.35 / 0.15, rel_tol=0.25)
