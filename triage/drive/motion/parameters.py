"""What a simulation needs beyond the drive itself, each figure with its default and where that comes from."""

from dataclasses import dataclass, replace
from typing import Any

from triage.drive.mechanics.arm import ARM_STOP_RAD
from triage.drive.mechanics.coasting import ROTOR_WINDAGE_NMS2
from triage.drive.mechanics.overrun import ROTOR_DRAG_NM
from triage.record.layout import FreeCrank as WrittenCrank
from triage.record.layout import Layout, Simulation
from triage.units import KINDS, parse_quantity, say_quantity

KEYS = {
    "arm_friction": ("arm_friction_nm", "torque"),
    "span_damping": ("span_damping_s", "time"),
    "rotor_drag": ("rotor_drag_nm", "torque"),
    "windage": ("windage_nm_s2", "windage"),
    "lock_stiffness": ("lock_nm_rad", "torsional-stiffness"),
    "spring_damping": ("spring_damping_nm_s", "rotational-damping"),
    "clutch_drag": ("clutch_drag_nm", "torque"),
    "ripple_order": ("ripple_order", "number"),
}
"""Key under `simulation`, what it is here, and which kind of quantity it takes."""
SMALL = 0.01
"""Below it a figure is written in SI as it stands."""
CRANK_KEYS = {
    "inertia": ("inertia_kg_m2", "inertia"),
    "friction": ("friction_nm", "torque"),
    "compression": ("compression_nm", "torque"),
}
"""Likewise below `simulation.crank`."""


@dataclass(frozen=True)
class FreeCrank:
    """A crank that nothing drives; all three from memory, for a small car engine.

    Args:
        inertia_kg_m2: of all that turns with it.
        friction_nm: torque against its turning.
        compression_nm: largest torque of compressing.
    """

    inertia_kg_m2: float = 0.16
    friction_nm: float = 18.0
    compression_nm: float = 60.0


@dataclass(frozen=True)
class Parameters:
    """Everything that a layout may give under `simulation`; all defaults from memory.

    Args:
        arm_friction_nm: dry friction of the tensioner's arm.
        arm_stop_rad: how far the arm can swing either way from its place in the layout.
        span_damping_s: time β by which a span's rate of stretch counts like stretch.
        rotor_drag_nm: dry drag of the rotor's bearings.
        windage_nm_s2: torque of the rotor's fan over speed squared.
        lock_nm_rad: stiffness of a clutch that holds.
        spring_damping_nm_s: damping beside any spring of a pulley.
        clutch_drag_nm: drag of a one-way clutch that overruns.
        crank: the crank while nothing drives it.
        creep: whether the belt creeps.
        ripple_order: firings per turn; half the cylinders where none is given.
    """

    arm_friction_nm: float = 4.0
    arm_stop_rad: float = ARM_STOP_RAD
    span_damping_s: float = 2e-4
    rotor_drag_nm: float = ROTOR_DRAG_NM
    windage_nm_s2: float = ROTOR_WINDAGE_NMS2
    lock_nm_rad: float = 3000.0
    spring_damping_nm_s: float = 0.02
    clutch_drag_nm: float = 0.05
    crank: FreeCrank = FreeCrank()
    creep: bool = True
    ripple_order: float | None = None


def parameters_of(layout: Layout) -> Parameters:
    """Read what a layout says under `simulation`; what it leaves out stays as usual.

    Args:
        layout: as it was written.

    Returns:
        the parameters, in [SI].

    Source: from-memory
    """
    written = layout.simulation or Simulation()
    given: dict[str, Any] = {
        name: _si(getattr(written, key), kind) for key, (name, kind) in KEYS.items() if getattr(written, key)
    }
    if layout.engine.cylinders is not None:
        given.setdefault("ripple_order", layout.engine.cylinders / 2)
    parts = written.crank or WrittenCrank()
    crank = {name: _si(getattr(parts, key), kind) for key, (name, kind) in CRANK_KEYS.items() if getattr(parts, key)}
    creep = True if written.creep is None else written.creep
    return replace(Parameters(creep=creep, crank=FreeCrank(**crank)), **given)


def usual_ones(layout: Layout) -> str:
    """Say which parameters a layout leaves out, with what is taken instead; "" where it has all of them."""
    written, usual = layout.simulation or Simulation(), Parameters()
    parts = written.crank or WrittenCrank()
    left = [(key, getattr(usual, name), kind) for key, (name, kind) in KEYS.items() if not getattr(written, key)]
    left += [
        (f"crank.{key}", getattr(usual.crank, name), kind)
        for key, (name, kind) in CRANK_KEYS.items()
        if not getattr(parts, key)
    ]
    said = [f"{key} {_said(value, kind)}" for key, value, kind in left if value is not None]
    return f"Not in the layout under simulation, taken from memory: {', '.join(said)}." if said else ""


def _said(value: float, kind: str) -> str:
    # Usual units round such small figures to nothing; SI as it stands does not.
    return f"{value:g} {KINDS[kind].si}" if value < SMALL else say_quantity(value, kind)


def _si(text: str, kind: str) -> float:
    return parse_quantity(text, kind).value
