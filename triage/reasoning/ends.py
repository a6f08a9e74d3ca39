"""What an end of a search costs for what is known there, exactly, with any number of faults at once.

What is to be found is what made the complaint. A cause that is put right without being there costs its work and part.
The proof of the repair says whether the complaint is gone; where it is not, the likeliest of the other causes is put
right as well if that costs less than it saves. A vehicle with a fault behind its complaint of which nothing was put
right comes back, with the dearest of them. Once one was, the proof says whether there is another.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from triage.knowledge.models import Knowledge
from triage.reasoning.belief import Belief
from triage.reasoning.losses import Losses, losses_of
from triage.reasoning.network import Network, Numbers
from triage.reasoning.rounding import even
from triage.reasoning.weights import Weights

MOST_TRIED = 3
"""So many of the likeliest causes are tried, to be put right first or second. Source: from-memory."""

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

    def cost_min(self, belief: Belief, named: Named, in_vain_min: float = 0.0) -> float:
        """Expected loss of an end [min], with what it costs to renew what such a vehicle cannot have."""
        nothing_more = self._cost(belief, named, ())
        if not named and not in_vain_min:
            return nothing_more
        others = [at for at in self._likeliest(belief) if at not in named]
        return in_vain_min + min([nothing_more, *(self._cost(belief, named, (other,)) for other in others)])

    def best(self, belief: Belief) -> Named:
        """The end that costs least, of those that put right none or one of the likeliest causes."""
        ends: list[Named] = [(), *((one,) for one in self._likeliest(belief))]
        return min(ends, key=lambda end: even(self.cost_min(belief, end)))

    def _likeliest(self, belief: Belief) -> list[int]:
        return sorted(self.relevant, key=lambda at: -even(float(belief.causes[at])))[:MOST_TRIED]

    def _cost(self, belief: Belief, named: Named, then: Named) -> float:
        """Expected loss where some causes are put right at once, and one more where the complaint stays."""
        for_nothing, absent = self.losses.for_nothing_min, 1.0 - belief.causes
        cost = sum(float(absent[at] * for_nothing[at]) for at in named)
        cost += sum(float(for_nothing[at]) * (1.0 - belief.any_of({*named, at})) for at in then)
        right = belief.any_of({*named, *then})
        return cost + sum(step * (belief.any_of({*named, *then, *causes}) - right) for step, causes in self._layers)

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


def stakes_of(knowledge: Knowledge, network: Network, symptom: str, weights: Weights) -> Stakes:
    """What is at stake with a complaint in a shop; a complaint that is no sign may be made by any cause."""
    sign = knowledge.signs.get(symptom)
    relevant = (at for at, cause in enumerate(network.causes) if sign is None or cause in sign.produced_by)
    losses = losses_of(network, weights)
    return Stakes(losses, tuple(relevant))
