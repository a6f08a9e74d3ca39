"""Which way a pulley that is screwed onto its shaft comes off, worked out from the screw itself.

Turned the wrong way with a long bar, a seized pulley gets tighter until something breaks. So the answer is derived
from the right-hand rule each time and nowhere looked up. Everything is seen from the pulley end, with the axis
pointing from the machine towards the viewer.
"""

from typing import Literal

Thread = Literal["right", "left"]
Turned = Literal["hub", "shaft"]
TurningSense = Literal["clockwise", "counter-clockwise"]

_HAND: dict[Thread, int] = {"right": 1, "left": -1}


def loosening_turn(thread: Thread, turned: Turned) -> TurningSense:
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
    # Screw rule: a hub that travels towards the viewer has turned against its shaft by the hand of the thread.
    hub_against_shaft = _HAND[thread]
    # Rotation of hub against shaft = hub's own − shaft's own, and one of the two is held.
    own = hub_against_shaft if turned == "hub" else -hub_against_shaft
    # Right-hand rule: positive about an axis that points at the viewer runs counter-clockwise.
    return "counter-clockwise" if own > 0 else "clockwise"
