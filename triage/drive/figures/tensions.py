"""The one model of tension of a drive: at rest, steady at speed, and while the crank gains or loses speed.

Notes, margins, slack span and arm all come from it. Mean torques only: what single firings add is not in it.
"""

import math
from functools import lru_cache

from triage.drive.figures.derived import UnknownFigureError, known
from triage.drive.figures.running import Running
from triage.drive.layout.assembly import Member
from triage.drive.mechanics.arm import Arm, Balance, Pulled, UnsteadyArmError, balance
from triage.drive.mechanics.geometry import BeltPath
from triage.drive.mechanics.grip import centrifugal_tension
from triage.drive.mechanics.overrun import passed_torque
from triage.drive.mechanics.span_tensions import level_by, steps_of
from triage.knowledge.models import PulleyType


def pulled_by(running: Running, pulley: PulleyType, slowing_rev_s2: float, held_nm: float = 0.0) -> Pulled:
    """Say what pulls at a drive: the torques of its parts, the tension at rest, and the belt's own flight.

    Args:
        running: drive with n pulleys at a speed of its crank; at none nothing is driven.
        pulley: type that the alternator is thought to have.
        slowing_rev_s2: rate at which the crank loses speed, negative where it gains [rev/s²].
        held_nm: torque that holds the tensioner's arm from growing the path, such as dry friction [N·m].

    Returns:
        n steps of tension and what goes with them.

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: khurmi, beikmann-1996
    """
    drive = running.drive
    torques = [0.0] * len(drive.members)
    if running.rev_s > 0:
        for position, ratio in list(enumerate(running.ratios))[1:]:
            kept = pulley if position == drive.alternator else "solid"
            torques[position] = _belt_torque(drive.members[position], kept, 2 * math.pi * slowing_rev_s2 * ratio)
    own_n = centrifugal_tension(known(drive.mass_kg_m, "belt.mass_per_metre"), running.belt_m_s)
    radii = [member.pitch_m / 2 for member in drive.members]
    return Pulled(steps_of(torques, radii), known(drive.tension_n, "tension"), own_n, drive.stiffness_n, held_nm)


def balance_of(running: Running, pulled: Pulled) -> Balance:
    """Find the tension of every span, and where the tensioner's arm stands then.

    Without the arm's data a tensioner keeps the mean of its two spans, with m·v² added as a spring adds it. On fixed
    centres the belt's length keeps the mean over all spans.

    Args:
        running: drive with n pulleys at a speed of its crank.
        pulled: n steps and what goes with them.

    Returns:
        n tensions in [N]; a negative one means that the span goes slack.

    Raises:
        UnknownFigureError: something that this needs is not given, or the arm finds no balance.

    Source: beikmann-1996
    """
    drive, route = running.drive, running.route
    if drive.arm is not None:
        try:
            return _balanced(route, drive.arm, pulled)
        except UnsteadyArmError as error:
            raise UnknownFigureError(str(error)) from error
    weights = [span.length_m for span in route.spans]
    level_n = pulled.rest_n
    if drive.tensioner is not None:
        weights = [float(position in (drive.tensioner - 1, drive.tensioner)) for position in range(len(weights))]
        level_n += pulled.own_n
    return Balance(0.0, level_by(pulled.steps_n, weights, level_n), route)


@lru_cache(maxsize=64)
def _balanced(route: BeltPath, arm: Arm, pulled: Pulled) -> Balance:
    return balance(route, arm, pulled)


def _belt_torque(member: Member, pulley: PulleyType, slowing_rad_s2: float) -> float:
    part = member.part
    load_nm = known(member.load_nm, f"the torque of {part}")
    if slowing_rad_s2 == 0:
        return load_nm
    if pulley in ("solid", "isolator"):
        whole = known(member.inertia_kg_m2, f"the inertia of {part}")
        return passed_torque(pulley, load_nm, whole, slowing_rad_s2, 0.0)
    rotor = known(member.rotor_kg_m2, f"the rotor_inertia of {part}")
    rim = known(member.rim_kg_m2, f"the rim_inertia of {part}")
    overruns = rotor * slowing_rad_s2 > load_nm
    drag_nm = 0.0
    if pulley == "decoupler" and overruns:
        drag_nm = known(member.drag_nm, f"the overrun_drag of {part}")
    return passed_torque(pulley, load_nm, rotor, slowing_rad_s2, drag_nm) - rim * slowing_rad_s2
