"""A drive and the variants of it that are tried at once, as rows of numbers for the laws."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from triage.drive.figures.derived import UnknownFigureError, known
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.geometry import BeltPath
from triage.drive.motion.laws.arm_path import MOST_GRIP, ArmPath, arm_path
from triage.drive.motion.laws.joint import Joint, broken, joint_of
from triage.drive.motion.parameters import Parameters
from triage.knowledge.models import PulleyType

Array = npt.NDArray[np.float64]

FAULTS: dict[str, str] = {
    "binding": "overrunning clutch binds: it lets the rotor run ahead only from 1.6 N·m on (from memory)",
    "seized": "clutch seized, its spring still alive",
    "rusted-solid": "pulley rusted solid",
    "slipping": "clutch slips: it drives with no more than 2 N·m (from memory)",
    "no-drive": "clutch drives with no more than 0.2 N·m (from memory)",
    "spring-broken": "spring broken and jammed, clutch still overruns",
    "weak-tensioner": "tensioner spring at half its torque (from memory)",
    "no-damping": "tensioner arm without friction",
    "grip-lost": "grip at 0.4 of what it should be (from memory)",
}
"""What can be wrong, in words."""

WEAK = 0.5
"""Share of its torque that a weak tensioner spring keeps; from memory."""
LOST_GRIP = 0.4
"""Share of its friction that a spoilt belt keeps; from memory."""


@dataclass(frozen=True)
class Variant:
    """One way in which the drive may be built or broken.

    Args:
        pulley: type of the alternator's pulley.
        fault: one of `FAULTS`, "" for none.
    """

    pulley: PulleyType
    fault: str = ""


@dataclass(frozen=True)
class Machine:
    """Rows are pulleys or the spans that leave them, columns are variants.

    Args:
        parts: names of the pulleys.
        radii_m: shape (n, 1).
        inertias_kg_m2: shape (n, variants), with the rotor where the pulley is rigid.
        loads_nm: shape (n, variants), the alternator's not among them.
        rates_n_m: tension over stretch of each span, shape (n, 1).
        grips: ratios of tension that wraps hold with the arm in its place, shape (n, variants).
        alternator: position of the pulley with a rotor, none where there is none.
        joints: one a variant.
        paths: how the belt's way changes with the arm, none without one.
        arm_kg_m2: inertia of the arm, nothing without one.
        pretension_nm: torque of the arm's spring in its place, one a variant.
        arm_rate_nm_rad: its stiffness, one a variant.
        arm_friction_nm: one a variant.
    """

    variants: tuple[Variant, ...]
    drive: Drive
    route: BeltPath
    parameters: Parameters
    parts: tuple[str, ...]
    radii_m: Array
    inertias_kg_m2: Array
    loads_nm: Array
    rates_n_m: Array
    grips: Array
    rest_n: float
    stiffness_n: float
    mass_kg_m: float
    alternator: int | None
    alternator_nm: float
    rotor_kg_m2: float
    joints: tuple[Joint, ...]
    paths: ArmPath | None
    arm_kg_m2: float
    pretension_nm: Array
    arm_rate_nm_rad: Array
    arm_friction_nm: Array

    @property
    def rigid(self) -> npt.NDArray[np.bool_]:
        """Where ring and rotor are one, one a variant."""
        return np.array([joint.rigid for joint in self.joints])


def build_machine(drive: Drive, parameters: Parameters, variants: tuple[Variant, ...]) -> Machine:
    """Put a drive and its variants into rows.

    Args:
        drive: drive with n pulleys.
        parameters: what a simulation needs beside it.
        variants: at least one.

    Returns:
        the machine.

    Raises:
        UnknownFigureError: something that moving needs is not given.

    Source: beikmann-1996
    """
    route = known(drive.route, f"the position (at) of {', '.join(drive.unplaced)}")
    stiffness_n, rest_n = known(drive.stiffness_n, "belt.stiffness"), known(drive.tension_n, "tension")
    if drive.tensioner is not None and drive.arm is None:
        raise UnknownFigureError("The layout does not give pivot, arm_inertia and stiffness of the tensioner.")
    joints = tuple(_joint(drive, parameters, variant) for variant in variants)
    own = tuple(_wedges(drive, LOST_GRIP if variant.fault == "grip-lost" else 1.0) for variant in variants)
    grips = [
        [math.exp(min(wedge * wrap, MOST_GRIP)) for wedge, wrap in zip(each, route.wraps_rad, strict=True)]
        for each in own
    ]
    arm = drive.arm
    weak = np.array([WEAK if variant.fault == "weak-tensioner" else 1.0 for variant in variants])
    undamped = np.array([0.0 if variant.fault == "no-damping" else 1.0 for variant in variants])
    paths = arm_path(route, arm, own, parameters.arm_stop_rad) if arm else None
    slope = float(paths.of(0).at(np.zeros(1), np.zeros(1))[1].sum()) if paths else 0.0
    loads = [0.0, *(known(m.load_nm, f"the torque of {m.part}") for m in drive.members[1:])]
    alternator = drive.alternator
    return Machine(
        variants=variants,
        drive=drive,
        route=route,
        parameters=parameters,
        parts=tuple(member.part for member in drive.members),
        radii_m=np.array([[member.pitch_m / 2] for member in drive.members]),
        inertias_kg_m2=np.array([_inertias(drive, parameters, joint) for joint in joints]).T,
        loads_nm=np.array([[0.0 if at == alternator else load] * len(variants) for at, load in enumerate(loads)]),
        rates_n_m=np.array([[stiffness_n / span.length_m] for span in route.spans]),
        grips=np.round(np.array(grips).T, 10),
        rest_n=rest_n,
        stiffness_n=stiffness_n,
        mass_kg_m=known(drive.mass_kg_m, "belt.mass_per_metre"),
        alternator=alternator,
        alternator_nm=0.0 if alternator is None else loads[alternator],
        rotor_kg_m2=_rotor(drive),
        joints=joints,
        paths=paths,
        arm_kg_m2=arm.inertia_kg_m2 if arm else 0.0,
        pretension_nm=rest_n * slope * weak,
        arm_rate_nm_rad=(arm.stiffness_nm_rad if arm else 0.0) * weak,
        arm_friction_nm=parameters.arm_friction_nm * undamped,
    )


def _joint(drive: Drive, parameters: Parameters, variant: Variant) -> Joint:
    lock = parameters.lock_nm_rad
    if drive.alternator is None:
        return Joint(lock, 0.0, rigid=True)
    member = drive.members[drive.alternator]
    sound = joint_of(variant.pulley, member, lock, parameters.spring_damping_nm_s, parameters.clutch_drag_nm)
    return broken(sound, variant.fault, lock)


def _wedges(drive: Drive, share: float) -> tuple[float, ...]:
    """Factor of each wrap in the exponent of its grip: the friction, on ribs over the sine of half the groove angle."""
    friction = known(drive.friction, "belt.friction") * share
    return tuple(
        friction if member.on_back else friction / math.sin(known(drive.groove_rad, "groove_angle") / 2)
        for member in drive.members
    )


def _inertias(drive: Drive, parameters: Parameters, joint: Joint) -> list[float]:
    inertias = [parameters.crank.inertia_kg_m2]
    for position, member in enumerate(drive.members[1:], start=1):
        if position == drive.alternator and not joint.rigid:
            inertias.append(known(member.rim_kg_m2, f"the rim_inertia of {member.part}"))
        else:
            inertias.append(known(member.inertia_kg_m2, f"the inertia of {member.part}"))
    return inertias


def _rotor(drive: Drive) -> float:
    if drive.alternator is None:
        return 1.0
    member = drive.members[drive.alternator]
    rotor = member.rotor_kg_m2 if member.rotor_kg_m2 is not None else member.inertia_kg_m2
    return known(rotor, f"the rotor_inertia of {member.part}")
