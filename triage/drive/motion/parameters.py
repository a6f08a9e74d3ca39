"""What a simulation needs beyond the drive itself, each figure with its default and where that comes from."""

from dataclasses import dataclass


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
    arm_stop_rad: float = 0.6
    span_damping_s: float = 2e-4
    rotor_drag_nm: float = 0.06
    windage_nm_s2: float = 5e-7
    lock_nm_rad: float = 3000.0
    spring_damping_nm_s: float = 0.02
    clutch_drag_nm: float = 0.05
    crank: FreeCrank = FreeCrank()
    creep: bool = True
    ripple_order: float | None = None
