"""What ends each group of confirmations: held in the program, so that no folder and no trace can take any of it away.

Nothing is asked again that nothing of this ended. docs/decisions/make-safe.md says why each stands as long as it does.
"""

from collections.abc import Mapping
from types import MappingProxyType

from triage.knowledge.models import Confirmation, Ending, Group, Knowledge, VehicleState

KEY_USED: tuple[Ending, ...] = ("driven", "engine-ran", "ignition-on", "key-left", "key-found", "lead-on")
ENDED_BY: Mapping[Group, tuple[Ending, ...]] = MappingProxyType(
    {
        "cannot-roll": ("driven", "lifted", "brake-touched"),
        "support": ("driven", "lifted"),
        "air-and-fire": ("driven", "another-bay"),
        "people": ("joined",),
        "still": ("driven", "engine-ran", "turned", "ignition-on", "fan-started"),
        "key": KEY_USED,
        "starts-itself": ("driven", "key-found", "lead-on"),
        "isolated": ("driven", "lead-on"),
        "reconnected": ("lead-off",),
        "belt-on": ("belt-moved",),
        "bay-clear": ("driven", "hands-in"),
        "everyone-out": ("driven", "stop", "joined", "hands-in", "stepped-in"),
        "at-the-key": ("driven", "stop", "joined", "hands-in", "left-seat", "key-left", "key-found"),
        "without-belt": ("driven", "stop", "hands-in"),
        "alone": ("driven", "stop", "joined", "hands-in", "left-seat"),
        "leaving": ("hands-in",),
        "same-as-before": ("long-hands-in", "long-silent"),
    }
)
"""The events that end each group. Leaving the vehicle, other rules, and a clock that jumped end all of them."""
LASTING_S = MappingProxyType({"running": 900.0, "long-hands-in": 3600.0, "long-silent": 1800.0, "no-answer": 600.0})
"""Longest run with a belt; when it is asked whether all is as before; how long that may wait. From memory."""


def ended_by(line: Confirmation) -> frozenset[str]:
    """Everything that ends a line; a line without a group is ended by everything."""
    every = frozenset(ending for endings in ENDED_BY.values() for ending in endings)
    return frozenset((*ENDED_BY[line.group], *line.ended_by)) if line.group else every


def arrives_so(line: Confirmation) -> bool:
    """Whether a vehicle arrives with it in order; nothing was clipped on before anybody came."""
    return line.arrives_so or bool(line.after) or line.group == "leaving"


def of_group(knowledge: Knowledge, confirmation: str) -> frozenset[str]:
    """Every line of the group of a line, itself included."""
    line = knowledge.confirmations.get(confirmation)
    if line is None or line.group is None:
        return frozenset({confirmation})
    return frozenset(one.id for one in knowledge.confirmations.values() if one.group == line.group)


def alike(knowledge: Knowledge, **standing: str) -> VehicleState | None:
    """The first vehicle state with this engine, belt and battery."""
    fits = (
        state
        for state in knowledge.states.values()
        if all(getattr(state, key) == value for key, value in standing.items())
    )
    return next(fits, None)
