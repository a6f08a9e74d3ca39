"""Which way a pulley that is screwed onto its shaft comes off, worked out from the screw itself.

Turned the wrong way with a long bar, a seized pulley gets tighter until something breaks. So the answer is derived
from the right-hand rule each time and nowhere looked up. Everything is seen from the pulley end, with the axis
pointing from the machine towards the viewer.
"""

from typing import Literal

Thread = Literal["right", "left"]
Turned = Literal["hub", "shaft"]
Turn = Literal["clockwise", "counter-clockwise"]

_HAND: dict[Thread, int] = {"right": 1, "left": -1}
_TOWARDS_VIEWER = 1
_ONTO_SHAFT = -1


def loosening_turn(thread: Thread, turned: Turned) -> Turn:
    """Say which way the turned part goes for the pulley to come off, seen from the pulley end.

    The usual short instruction gives one direction and leaves open which part it is for. It is meant for a hub on
    a shaft that stands still. Most pulley tools do the opposite, they hold the hub and turn the shaft inside it, and
    then the same words are backwards.

    Args:
        thread: hand of the thread between hub and shaft.
        turned: the part that the bar turns; the other one is held.

    Returns:
        the direction of the turned part, as the viewer sees it.

    Source: from-memory
    """
    return _turn_that_moves_hub(_TOWARDS_VIEWER, thread, turned)


def tightening_turn(thread: Thread, turned: Turned) -> Turn:
    """Say which way the turned part goes for the pulley to run onto its shaft, seen from the pulley end.

    Args:
        thread: hand of the thread between hub and shaft.
        turned: the part that the bar turns; the other one is held.

    Returns:
        the direction of the turned part, as the viewer sees it.

    Source: from-memory
    """
    return _turn_that_moves_hub(_ONTO_SHAFT, thread, turned)


def _turn_that_moves_hub(along_axis: int, thread: Thread, turned: Turned) -> Turn:
    # Screw rule: travel of hub against shaft = hand × rotation of hub against shaft, and hand is its own inverse.
    hub_against_shaft = _HAND[thread] * along_axis
    # Rotation of hub against shaft = hub's own − shaft's own, and one of the two is held.
    own = hub_against_shaft if turned == "hub" else -hub_against_shaft
    # Right-hand rule: positive about an axis that points at the viewer runs counter-clockwise.
    return "counter-clockwise" if own > 0 else "clockwise"
