"""Which vehicle trains most: what was got wrong comes again soon, what was got right later and later.

Each fault to be named lies in one of a few boxes. Right moves it one box on, wrong back to the first; a box says after
how many days it is due. The next vehicle is the one of a few drawn whose faults are due most, each as much as it is
common. Source of the days: from memory; docs/decisions/practice.md says why no more than this.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from triage.knowledge.models import Knowledge
from triage.knowledge.scales import BASE_RATES
from triage.practice.weeks.went import Went

DAYS: Final = (0, 1, 3, 7, 16)
"""After how many days what lies in a box is due again [d]."""
NEVER_MET: Final = 1.0
"""How much a fault counts that was never met: as much as one that was got wrong."""
MOST_OVERDUE: Final = 3.0
CANDIDATES: Final = 4
"""Vehicles among which one is picked."""


@dataclass(frozen=True)
class Box:
    """Where a fault lies.

    Args:
        number: of the box, from 0.
        since: when it came there.
    """

    number: int
    since: date


def boxes(went: Iterable[Went]) -> Mapping[str, Box]:
    """Where each fault that was met lies after these exercises, whatever their order."""
    lying: dict[str, Box] = {}
    for one in sorted(went, key=lambda each: each.day):
        for fault in one.faults:
            before = lying.get(fault, Box(0, one.day)).number
            lying[fault] = Box(min(before + 1, len(DAYS) - 1) if fault in one.concluded else 0, one.day)
    return lying


def need(lying: Mapping[str, Box], fault: str, today: date) -> float:
    """How much a fault is due today: 1 where it was got wrong or is just due, more the longer it is overdue [1]."""
    box = lying.get(fault)
    if box is None:
        return NEVER_MET
    days, due = (today - box.since).days, DAYS[box.number]
    if due == 0:
        return 1.0
    return min(days / due, MOST_OVERDUE) if days >= due else 0.0


def worth_training(knowledge: Knowledge, lying: Mapping[str, Box], faults: Iterable[str], today: date) -> float:
    """How much of what a vehicle teaches is due today, each fault as much as customers bring it [1]."""
    return sum(need(lying, fault, today) * BASE_RATES[knowledge.causes[fault].commonness] for fault in faults)
