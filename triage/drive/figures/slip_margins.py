"""How far every wrap of a drive is from slipping, steady and while the engine slows, for each pulley type.

Friction wedges on ribbed wraps only. Mean torques and mean slowing: what single firings add is not in it, nor is water
on the belt. A figure below one says that the belt slips there; it explains, the maker's procedure decides.
"""

import math

from triage.drive.figures.derived import known
from triage.drive.figures.running import Running
from triage.drive.layout.assembly import Member
from triage.drive.mechanics.grip import centrifugal_tension, flat_ratio, grooved_ratio, slip_margin
from triage.drive.mechanics.overrun import passed_torque
from triage.drive.mechanics.span_tensions import span_tensions
from triage.knowledge.models import PulleyType


def slip_margins(running: Running, pulley: PulleyType, slowing_rev_s2: float) -> tuple[float, ...]:
    """Compare the tension ratio that each wrap can hold with the one that is asked of it.

    Args:
        running: drive with n pulleys at a speed of its crank.
        pulley: type that the alternator is thought to have.
        slowing_rev_s2: rate at which the crank loses speed, zero when steady [rev/s²].

    Returns:
        n ratios, available over needed; zero where a side goes slack [1].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: khurmi, beikmann-1996
    """
    drive = running.drive
    available = _available_ratios(running)
    mass_kg_m = known(drive.mass_kg_m, "belt.mass_per_metre")
    own_n = centrifugal_tension(mass_kg_m, running.belt_m_s)
    tensions = _tensions(running, pulley, slowing_rev_s2)
    return tuple(
        slip_margin(ratio, tensions[position - 1] - own_n, tensions[position] - own_n)
        for position, ratio in enumerate(available)
    )


def _available_ratios(running: Running) -> list[float]:
    drive = running.drive
    friction = known(drive.friction, "belt.friction")
    ratios = []
    for member, wrap_rad in zip(drive.members, running.route.wraps_rad, strict=True):
        if member.on_back:
            ratios.append(flat_ratio(friction, wrap_rad))
        else:
            ratios.append(grooved_ratio(friction, wrap_rad, known(drive.groove_rad, "groove_angle")))
    return ratios


def _tensions(running: Running, pulley: PulleyType, slowing_rev_s2: float) -> tuple[float, ...]:
    drive = running.drive
    slowing_rad_s2 = 2 * math.pi * slowing_rev_s2
    torques = [0.0]
    for position, ratio in list(enumerate(running.ratios))[1:]:
        kept = pulley if position == drive.alternator else "solid"
        torques.append(_belt_torque(drive.members[position], kept, slowing_rad_s2 * ratio))
    weights: list[float] = [span.length_m for span in running.route.spans]
    if drive.tensioner is not None:
        weights = [float(position in (drive.tensioner - 1, drive.tensioner)) for position in range(len(weights))]
    radii = [member.pitch_m / 2 for member in drive.members]
    return span_tensions(torques, radii, weights, known(drive.tension_n, "tension"))


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
