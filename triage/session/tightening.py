"""A torque beside the figure that it was to have: whether the wrench can have been that far off.

Source: iso-6789, the permissible deviation of a hand torque tool; the session's own figure for the wrench wins.
"""

from triage.knowledge.models import Knowledge, Torque
from triage.session.state import State
from triage.units import Quantity

SAME = 1e-6
"""Share by which what is said back rounded may differ."""


def torque_named(knowledge: Knowledge, torque_id: str) -> Torque:
    """The fastener with this id; the session asks for no other."""
    torques = (torque for remedy in knowledge.remedies.values() for torque in remedy.torques)
    return next(torque for torque in torques if torque.id == torque_id)


def deviation_of(knowledge: Knowledge, state: State, torque_id: str) -> float:
    """The share by which the wrench for a fastener may be off."""
    used = state.accuracies.get(torque_named(knowledge, torque_id).tool)
    return used.relative if used else 0.0


def off_by(value_nm: float, figure: Quantity) -> float:
    """How far a torque lies outside of its figure: signed, as a share of the nearer end of the figure."""
    low, high = figure.value - figure.spread, figure.value + figure.spread
    near = min(max(value_nm, low), high)
    return (value_nm - near) / near if near else 0.0


def is_off(knowledge: Knowledge, state: State, torque_id: str, value_nm: float, figure: Quantity) -> bool:
    """Whether a torque is further from its figure than the wrench may be."""
    return abs(off_by(value_nm, figure)) > deviation_of(knowledge, state, torque_id) + SAME
