"""Machines to carry through time, and everything that they did in one piece."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.motion.events import Event
from triage.drive.motion.laws.crank import Course, Ripple
from triage.drive.motion.machine import Array, Machine, Variant, build_machine
from triage.drive.motion.parameters import FreeCrank, Parameters
from triage.drive.motion.running import Stretch, carried
from triage.drive.motion.stepping import SWEEPS, State
from triage.knowledge.shipped import trees_folder
from triage.record.layout import Layout

RAD_S = math.tau / 60
"""One revolution per minute."""
STILL = Parameters(
    arm_friction_nm=0.0,
    span_damping_s=0.0,
    rotor_drag_nm=0.0,
    windage_nm_s2=0.0,
    spring_damping_nm_s=0.0,
    crank=FreeCrank(inertia_kg_m2=0.07248, friction_nm=0.0, compression_nm=0.0),
    creep=False,
    ripple_order=2.0,
)
"""Nothing that takes energy out of a drive."""
SOLID = (Variant("solid"),)


def seven_text(*changes: tuple[str, str]) -> str:
    """The shipped seven-pulley layout after replacing some of its text."""
    text = (trees_folder() / "layouts" / "seven-pulleys.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def layout_of(text: str) -> Layout:
    return build(read_text(text, "tried.yaml"), Layout)


def drive_of(text: str) -> Drive:
    return assemble(layout_of(text))


@pytest.fixture
def seven() -> Drive:
    return drive_of(seven_text())


@pytest.fixture
def seven_with() -> Callable[..., Drive]:
    return lambda *changes: drive_of(seven_text(*changes))


def machine_of(drive: Drive, variants: tuple[Variant, ...] = SOLID, **parameters: object) -> Machine:
    """A machine with usual parameters but for some."""
    return build_machine(drive, replace(Parameters(ripple_order=2.0), **parameters), variants)  # type: ignore[arg-type]


def steady_event(rpm: float, seconds: float, ripple_deg: float = 0.0, torque_nm: float = 0.0) -> Event:
    """The crank at one speed."""
    ripple = Ripple(math.radians(ripple_deg), rpm * RAD_S, 2.0)
    course = Course([0.0], [rpm * RAD_S])
    return Event("idle", course, ripple, seconds, (0.0, seconds), ((0.0, torque_nm),))


def ramp_event(start_rpm: float, end_rpm: float, seconds: float, torque_nm: float = 0.0) -> Event:
    """The crank from one speed to another, from the first moment on."""
    course = Course([0.0, seconds], [start_rpm * RAD_S, end_rpm * RAD_S])
    return Event("slow-down", course, Ripple(0.0, 78.5, 2.0), seconds, (0.0, seconds), ((0.0, torque_nm),))


def at_rest(machine: Machine) -> State:
    """All at rest with the tension of rest."""
    n, variants = machine.inertias_kg_m2.shape
    wide, narrow = np.zeros((n, variants)), np.zeros(variants)
    return State(wide, wide.copy(), narrow, narrow.copy(), narrow.copy(), narrow.copy(), narrow.copy())


class Whole(NamedTuple):
    """A run in one piece; like `Stretch`."""

    ends_s: Array
    tensions_n: Array
    slip_m_s: Array
    pulleys_rad_s: Array
    arm_rad: Array
    rotor_rad_s: Array
    slide_rad_s: Array
    joint_nm: Array


def ride(machine: Machine, event: Event, step_s: float, state: State | None = None, sweeps: int = SWEEPS) -> Whole:
    """Carry a machine through an event and keep all of it."""
    stretches: list[Stretch] = list(carried(machine, event, step_s, state, sweeps))
    return Whole(*(np.concatenate([getattr(one, name) for one in stretches]) for name in Whole._fields))
