"""At which age a part is renewed best, and what a worn one that is left in still costs.

A part is renewed at an age for what that costs when planned, or earlier for what its failure costs. The age with the
least cost per unit of use is where hazard·lived − share failed = planned/(failed − planned). That age is for a part
that is renewed again and again; a vehicle is kept for so long only. What a worn part is expected to cost until then,
beyond a new one, is what it pays at most to renew it now.

Source: Barlow & Hunter 1960 (age replacement); stepping back from the end is textbook; from memory.
"""

import math
from dataclasses import dataclass

from triage.record.wear import Life

HALVINGS = 80
STEPS = 100
"""Steps in which the time that a vehicle is kept is worked through."""


@dataclass(frozen=True)
class RenewalPlan:
    """How a part is renewed.

    Args:
        life: how long it lasts.
        planned: cost of renewing it before it fails.
        failed: cost of renewing it when it has failed, not less than planned.
    """

    life: Life
    planned: float
    failed: float

    def rate(self, age: float) -> float:
        """Cost per unit of use when it is renewed at this age, or at failure before it.

        >>> from triage.record.wear import Uniform
        >>> [round(RenewalPlan(Uniform(longest=40e3), 100, 200).rate(age * 1e3), 4) for age in (10, 20, 30, 40)]
        [0.0143, 0.01, 0.0093, 0.01]
        """
        alive = self.life.alive(age)
        return (self.planned * alive + self.failed * (1.0 - alive)) / self.life.lived(age)

    def best_age(self) -> float:
        """The age with the least cost per unit of use; infinite where it is best left until it fails."""
        # The condition above holds at one age only where hazards rise with age, so halving finds it.
        extra = self.failed - self.planned
        low, high = 0.0, self.life.end
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            low, high = (low, middle) if self._beyond(middle) * extra > self.planned else (middle, high)
        # Where it holds at none, halving ends at the end of life; where hazards fall, at a worst age and not a best.
        return high if self.rate(high) < self.rate(self.life.end) else math.inf

    def ahead(self, age: float, kept: float) -> float:
        """What a part of this age is expected to cost, beyond a new one, as long as the vehicle is kept.

        At every step it is renewed as planned or driven on, whichever costs less; a part that fails in a step is new
        at its end. At most what renewing it as planned costs, as that can be done at once.

        Args:
            age: of the part now.
            kept: how much longer it is used.
        """
        step = kept / STEPS
        fails = [self._fails(place * step, step) for place in range(STEPS)]
        fails_old = [self._fails(age + place * step, step) for place in range(STEPS)]
        # From the end to now: costs to come of parts as many steps old as their place says, and of the old one.
        parts, old = [0.0] * (STEPS + 1), 0.0
        for at in range(STEPS - 1, -1, -1):
            # A part that fails in this step is replaced, and a new one, of which parts[0] tells, goes on from its end.
            failed = self.failed + parts[0]
            old = fails_old[at] * failed + (1.0 - fails_old[at]) * old
            driven = [fails[i] * failed + (1.0 - fails[i]) * parts[i + 1] for i in range(at + 1)]
            # Renewing now costs the plan and then what a new part costs from here; never more than that is paid.
            renewed = self.planned + driven[0]
            parts, old = [driven[0], *(min(one, renewed) for one in driven[1:])], min(old, renewed)
        return max(0.0, old - parts[0])

    def _fails(self, age: float, step: float) -> float:
        alive = self.life.alive(age)
        return 1.0 - self.life.alive(age + step) / alive if alive > 0.0 else 1.0

    def _beyond(self, age: float) -> float:
        return self.life.hazard(age) * self.life.lived(age) - (1.0 - self.life.alive(age))
