"""What makes a vehicle harder, level by level. All of it from memory: nobody has counted what learners find hard."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Level:
    """What a vehicle of a level may be like.

    Args:
        faults: how many faults it may have; without any, the customer hears what is no fault.
        bystander: whether one of several may have made nothing of the complaint.
        sound: share of vehicles that have nothing [1].
        misleading: whether the customer's words lead astray.
        intermittent: share of vehicles whose complaint is not there when they come in [1].
        lacking: how many tools are lent out at most.
        hurry: whether the customer waits.
        worked_on: whether somebody has looked before and found nothing.
    """

    faults: tuple[int, ...]
    bystander: bool = False
    sound: float = 0.0
    misleading: bool = False
    intermittent: float = 0.0
    lacking: int = 0
    hurry: bool = False
    worked_on: bool = False


LEVELS: Final = (
    Level(faults=(1,)),
    Level(faults=(1,), sound=0.1),
    Level(faults=(1, 2), bystander=True, sound=0.1, misleading=True),
    Level(faults=(1, 2), bystander=True, sound=0.1, misleading=True, intermittent=0.3, lacking=1, hurry=True),
    Level(faults=(2,), sound=0.1, misleading=True, intermittent=0.5, lacking=2, hurry=True, worked_on=True),
)
"""Level 1 first."""
EASIEST: Final = 1
HARDEST: Final = len(LEVELS)
"""Highest level."""
ODOMETERS_KM: Final = (20, 240)
"""Distance driven in thousands of kilometres, from the one to the other. Source: from-memory."""
PROVOKED: Final = 0.6
"""How often a test brings a complaint on that comes and goes [1]. Source: from-memory."""
