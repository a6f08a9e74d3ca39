"""How far every wrap of a drive is from slipping, steady and while the engine changes speed, for each pulley type.

Friction wedges on ribbed wraps only. Mean torques and mean slowing: what single firings add is not in it, nor is water
on the belt. A share of grip above one says that the belt slips there; it explains, the maker's procedure decides.
"""

import math

from triage.drive.figures.derived import NO_TENSIONER, UnknownFigureError, known
from triage.drive.figures.running import Running
from triage.drive.figures.tensions import balance_of, pulled_by
from triage.drive.mechanics.arm import ARM_FRICTION_NM, Balance
from triage.drive.mechanics.grip import flat_ratio, friction_needed, grooved_ratio, slip_margin
from triage.knowledge.models import PulleyType

Case = tuple[PulleyType, float, float]
"""The alternator's pulley, how fast the crank slows [rev/s²], and what holds the arm back [N·m]."""


def slip_margins(running: Running, pulley: PulleyType, slowing_rev_s2: float) -> tuple[float, ...]:
    """Compare the tension ratio that each wrap can hold with the one that is asked of it.

    A long wrap and a short one cannot be compared by it; `grip_used` can.

    Args:
        running: drive with n pulleys at a speed of its crank.
        pulley: type that the alternator is thought to have.
        slowing_rev_s2: rate at which the crank loses speed, zero when steady, negative where it gains [rev/s²].

    Returns:
        n ratios, available over needed; zero where a side goes slack [1].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: khurmi, beikmann-1996
    """
    friction = known(running.drive.friction, "belt.friction")
    balance, sides = _sides(running, (pulley, slowing_rev_s2, 0.0))
    held = (
        flat_ratio(friction, wrap_rad)
        if member.on_back
        else grooved_ratio(friction, wrap_rad, known(running.drive.groove_rad, "groove_angle"))
        for member, wrap_rad in zip(running.drive.members, balance.route.wraps_rad, strict=True)
    )
    return tuple(slip_margin(ratio, *side) for ratio, side in zip(held, sides, strict=True))


def frictions_needed(running: Running, pulley: PulleyType, slowing_rev_s2: float) -> tuple[float, ...]:
    """Say below which friction the belt slips at each pulley.

    Args:
        running: drive with n pulleys at a speed of its crank.
        pulley: type that the alternator is thought to have.
        slowing_rev_s2: rate at which the crank loses speed, zero when steady, negative where it gains [rev/s²].

    Returns:
        n coefficients of friction; infinite where a side goes slack [1].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: khurmi
    """
    return _needed(running, (pulley, slowing_rev_s2, 0.0))


def _needed(running: Running, case: Case) -> tuple[float, ...]:
    balance, sides = _sides(running, case)
    contacts = (
        wrap_rad if member.on_back else wrap_rad / math.sin(known(running.drive.groove_rad, "groove_angle") / 2)
        for member, wrap_rad in zip(running.drive.members, balance.route.wraps_rad, strict=True)
    )
    return tuple(friction_needed(contact, *side) for contact, side in zip(contacts, sides, strict=True))


def grip_by_arm(running: Running) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Say which share of its grip each wrap uses where dry friction keeps the arm from where its spring would put it.

    Args:
        running: drive with n pulleys and a sprung arm at a steady speed of its crank.

    Returns:
        n shares with the arm held back from the belt, n with the arm held against it [1].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: khurmi, from-memory
    """
    if running.drive.tensioner is None:
        raise UnknownFigureError(NO_TENSIONER)
    known(running.drive.arm, "pivot, arm_inertia and stiffness of the tensioner")
    held, pressed = (_shares(running, ("solid", 0.0, way * ARM_FRICTION_NM)) for way in (1, -1))
    return held, pressed


def grip_used(running: Running, pulley: PulleyType, slowing_rev_s2: float) -> tuple[float, ...]:
    """Say which share of its grip each wrap uses: ln(T₁/T₂)/(μ·contact).

    Args:
        running: drive with n pulleys at a speed of its crank.
        pulley: type that the alternator is thought to have.
        slowing_rev_s2: rate at which the crank loses speed, zero when steady, negative where it gains [rev/s²].

    Returns:
        n shares; above one the belt slips, infinite where a side goes slack [1].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: khurmi
    """
    return _shares(running, (pulley, slowing_rev_s2, 0.0))


def _shares(running: Running, case: Case) -> tuple[float, ...]:
    friction = known(running.drive.friction, "belt.friction")
    return tuple(needed / friction for needed in _needed(running, case))


def _sides(running: Running, case: Case) -> tuple[Balance, tuple[tuple[float, float], ...]]:
    """The balance, and for every pulley the tensions before and after it, net of what holds the belt on its curve."""
    pulled = pulled_by(running, *case)
    balance = balance_of(running, pulled)
    net = [tension_n - pulled.own_n for tension_n in balance.tensions_n]
    return balance, tuple((net[position - 1], net[position]) for position in range(len(net)))
