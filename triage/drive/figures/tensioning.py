"""What a tensioner has to do in a drive, and whether it can: its arm's torque, wind-up, authority and turn."""

import math
from dataclasses import dataclass

from triage.drive.figures.derived import NO_TENSIONER, UnknownFigureError, known
from triage.drive.figures.running import Running
from triage.drive.figures.tensions import balance_of, pulled_by
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.arm import Arm, fitting_turn, take_up

LEAST_AUTHORITY = 0.15
"""Share of the most that an arm can take up, below which it moves nearly along the belt; a judgement of ours."""
LEAST_WINDUP_RAD = math.radians(5)
"""Wind-up below which a spring hardly holds a belt that gets longer; from memory."""


@dataclass(frozen=True)
class Tensioning:
    """A sprung tensioner as the layout puts it.

    Args:
        arm_length_m: from pivot to pulley [m].
        arm_torque_nm: torque of its spring at rest [N·m].
        windup_deg: how far the spring is wound for it [°].
        take_up_m_rad: belt taken up for a unit turn of the arm [m/rad].
        authority: the same over twice the arm's length, the most that an arm can take up [1].
        running_turn_deg: turn from where the layout puts it to where it stands at speed under load, positive where it
            takes belt up; none where that is unknown [°].
        fitting_turn_deg: turn at which a belt of the layout's length fits; none where no length is given or no turn
            fits [°].
    """

    arm_length_m: float
    arm_torque_nm: float
    windup_deg: float
    take_up_m_rad: float
    authority: float
    running_turn_deg: float | None
    fitting_turn_deg: float | None


def tensioning_of(running: Running) -> Tensioning:
    """Work out what the tensioner does.

    Args:
        running: drive with n pulleys at a speed of its crank.

    Returns:
        lengths in [m], torque in [N·m], angles in [deg].

    Raises:
        UnknownFigureError: there is no tensioner, or pivot, stiffness or tension is not given.

    Source: beikmann-1996
    """
    drive, route = running.drive, running.route
    if drive.tensioner is None:
        raise UnknownFigureError(NO_TENSIONER)
    arm = known(drive.arm, "pivot, arm_inertia and stiffness of the tensioner")
    circle = route.circles[arm.pulley]
    length_m = math.dist((circle.x_m, circle.y_m), arm.pivot)
    taken_m = take_up(route, arm)
    torque_nm = abs(known(drive.tension_n, "tension") * taken_m)
    return Tensioning(
        arm_length_m=length_m,
        arm_torque_nm=torque_nm,
        windup_deg=math.degrees(torque_nm / arm.stiffness_nm_rad),
        take_up_m_rad=abs(taken_m),
        authority=abs(taken_m) / (2 * length_m),
        running_turn_deg=_running_turn(running, taken_m),
        fitting_turn_deg=_fitting_turn(drive, arm, taken_m),
    )


def _running_turn(running: Running, taken_m: float) -> float | None:
    try:
        turn_rad = balance_of(running, pulled_by(running, "solid", 0.0)).turn_rad
    except UnknownFigureError:
        return None
    return math.degrees(math.copysign(1.0, taken_m) * turn_rad)


def _fitting_turn(drive: Drive, arm: Arm, taken_m: float) -> float | None:
    if drive.belt_m is None or drive.route is None:
        return None
    turn_rad = fitting_turn(drive.route, arm, drive.belt_m)
    return None if turn_rad is None else math.degrees(math.copysign(1.0, taken_m) * turn_rad)


def tensioner_warnings(drive: Drive, tensioning: Tensioning | None) -> tuple[str, ...]:
    """Say what is wrong with where the tensioner stands and what is asked of it, a sentence each."""
    warnings = [_tight_side(drive)]
    if tensioning is not None:
        warnings += [_weak(tensioning), _no_fit(drive, tensioning)]
    return tuple(warning for warning in warnings if warning)


def _tight_side(drive: Drive) -> str:
    """Where most of the load lies between the crank and the tensioner, the belt runs tight over it."""
    if drive.tensioner is None or drive.route is None:
        return ""
    others = [member for member in drive.members[1:] if member is not drive.members[drive.tensioner]]
    if any(member.load_nm is None for member in others):
        loads = [float(member.load_nm != 0) for member in drive.members]
    else:
        loads = [member.load_nm or 0.0 for member in drive.members]
    loads[0] = loads[drive.tensioner] = 0.0
    pulls = [load / member.pitch_m for load, member in zip(loads, drive.members, strict=True)]
    if sum(pulls[: drive.tensioner]) <= sum(pulls[drive.tensioner :]):
        return ""
    part, before = drive.members[drive.tensioner].part, drive.members[drive.tensioner - 1].part
    return (
        f"{part} stands on the tight side: running so, most of the load lies before it (it comes after {before}). "
        "Check which way the engine turns, seen from the pulley end."
    )


def _weak(tensioning: Tensioning) -> str:
    if tensioning.authority < LEAST_AUTHORITY:
        return (
            f"The tensioner's arm moves nearly along the belt: it takes up {tensioning.authority * 100:.0f} % of what "
            "an arm of its length can. Check its pivot."
        )
    if math.radians(tensioning.windup_deg) < LEAST_WINDUP_RAD:
        return (
            f"The tensioner's spring is wound by {tensioning.windup_deg:.1f}° only and hardly follows a belt that gets "
            "longer. Check its stiffness and pivot."
        )
    return ""


def _no_fit(drive: Drive, tensioning: Tensioning) -> str:
    if drive.belt_m is None or tensioning.fitting_turn_deg is not None:
        return ""
    return "No turn of the tensioner's arm makes the way round as long as the belt. Check length, pivot and positions."
