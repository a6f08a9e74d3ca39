"""What an end of a search costs for what is known there, exactly, with any number of faults at once.

What is to be found is what made the complaint. A cause that is put right without being there costs its work and part.
Where no fault that is there is put right, the vehicle comes back with the dearest of those that can make the complaint;
where one is, the proof of the repair says whether another one is there as well.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from triage.knowledge.models import Knowledge
from triage.reasoning.belief import Belief
from triage.reasoning.losses import Losses, losses_of
from triage.reasoning.network import Network, Numbers

MOST_TRIED = 3
"""The likeliest causes, of which the best end puts right one or two, or none. Source: from-memory."""

Named = tuple[int, ...]
"""The places of the causes that an end puts right."""


@dataclass(frozen=True)
class Stakes:
    """What is at stake with one complaint.

    Args:
        losses: what each wrong choice costs.
        relevant: the places of the causes that can make the complaint.
    """

    losses: Losses
    relevant: Named

    def cost_min(self, belief: Belief, named: Named) -> float:
        """Expected loss of an end [min]."""
        absent = 1.0 - belief.causes[list(named)]
        for_nothing = float(absent @ self.losses.for_nothing_min[list(named)])
        right = belief.any_of(named)
        return for_nothing + sum(step * (belief.any_of({*named, *causes}) - right) for step, causes in self._layers)

    def best(self, belief: Belief) -> Named:
        """The end that costs least, of those that put right at most two of the likeliest causes."""
        relevant = sorted(self.relevant, key=lambda at: -belief.causes[at])[:MOST_TRIED]
        ends: list[Named] = [(), *((one,) for one in relevant), tuple(relevant[:2])]
        return min(ends, key=lambda end: self.cost_min(belief, end))

    @cached_property
    def _layers(self) -> list[tuple[float, Named]]:
        """Each step up in what a comeback costs, with the causes that cost at least so much."""
        left_in: Numbers = self.losses.left_in_min[list(self.relevant)]
        levels = np.unique(left_in)
        steps = np.diff(levels, prepend=0.0)
        return [
            (float(step), tuple(at for at, cost in zip(self.relevant, left_in, strict=True) if cost >= level))
            for level, step in zip(levels, steps, strict=True)
        ]


def stakes_of(knowledge: Knowledge, network: Network, symptom: str) -> Stakes:
    """What is at stake with a complaint; one that is no sign may be made by any cause."""
    sign = knowledge.signs.get(symptom)
    relevant = (at for at, cause in enumerate(network.causes) if sign is None or cause in sign.produced_by)
    return Stakes(losses_of(network, {}, {}), tuple(relevant))
