"""What stands between the ring of the alternator's pulley and its rotor: a spring and a damper, then a slider.

The slider lets go where the torque would leave its bounds. Every type of pulley, and every fault of one, is a choice of
these numbers:

| pulley | spring | lower bound | upper bound |
|---|---|---|---|
| solid | rigid | – | – |
| isolator | its spring | none | none |
| one-way-clutch | the locked clutch | −drag | none |
| decoupler | its spring | −drag | none |
"""

import math
from dataclasses import dataclass, replace

from triage.drive.figures.derived import known
from triage.drive.layout.assembly import Member
from triage.knowledge.models import PulleyType

BINDING_NM = -1.6
"""Torque at which a binding clutch still lets the rotor run ahead; from memory."""
SLIPPING_NM = 2.0
"""Torque at which a worn clutch lets go the driving way; from memory."""
NO_DRIVE_NM = 0.2
"""Torque that a clutch passes that drives no more; from memory."""


@dataclass(frozen=True)
class Joint:
    """What a pulley does between ring and rotor.

    Args:
        spring_nm_rad: stiffness of its spring; not used where it is rigid.
        damping_nm_s: damping beside the spring.
        lower_nm: torque at which the rotor runs ahead of the ring.
        upper_nm: torque at which the ring runs ahead of the rotor.
        rigid: whether ring and rotor are one.
    """

    spring_nm_rad: float
    damping_nm_s: float
    lower_nm: float = -math.inf
    upper_nm: float = math.inf
    rigid: bool = False


def joint_of(pulley: PulleyType, member: Member, lock_nm_rad: float, damping_nm_s: float, clutch_nm: float) -> Joint:
    """Say what a sound pulley of a type does.

    Args:
        pulley: one of the four types.
        member: the alternator, which gives spring and drag.
        lock_nm_rad: stiffness of a clutch that holds [N·m/rad].
        damping_nm_s: damping beside any spring [N·m·s].
        clutch_nm: drag of a one-way clutch that overruns [N·m].

    Returns:
        the joint, in [SI].

    Raises:
        UnknownFigureError: the layout gives no spring, or no drag of a decoupler.

    Source: from-memory
    """
    if pulley == "solid":
        return Joint(lock_nm_rad, damping_nm_s, rigid=True)
    if pulley == "one-way-clutch":
        return Joint(lock_nm_rad, damping_nm_s, lower_nm=-clutch_nm)
    spring = known(member.spring_nm_rad, f"the spring of the pulley of {member.part}")
    if pulley == "isolator":
        return Joint(spring, damping_nm_s)
    drag_nm = known(member.drag_nm, f"the overrun_drag of {member.part}")
    return Joint(spring, damping_nm_s, lower_nm=-drag_nm)


def broken(joint: Joint, fault: str, lock_nm_rad: float) -> Joint:
    """Give a pulley one of the faults that are its own; any other leaves it as it is.

    Args:
        joint: the sound one.
        fault: such as "seized".
        lock_nm_rad: stiffness of what is jammed [N·m/rad].

    Returns:
        the joint with that fault, in [SI].

    Source: from-memory
    """
    match fault:
        case "binding":
            return replace(joint, lower_nm=BINDING_NM)
        case "seized":
            return replace(joint, lower_nm=-math.inf)
        case "rusted-solid":
            return replace(joint, rigid=True)
        case "slipping":
            return replace(joint, upper_nm=SLIPPING_NM)
        case "no-drive":
            return replace(joint, upper_nm=NO_DRIVE_NM)
        case "spring-broken":
            return replace(joint, spring_nm_rad=lock_nm_rad)
    return joint
