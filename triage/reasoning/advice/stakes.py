"""What it costs if the complaint is not gone: the one measure behind worth, routes, trees and the choice of repairs.

An end puts causes right, and then the complaint is gone or it stays. It is gone where all that made it was put right. A
cause that was put right without having made it cost its work and part for nothing. A complaint that stays comes back,
with the dearest of what made it; where nothing listed made it, no repair helps. Without a complaint, it counts as gone
where every fault was found that is there.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from triage.knowledge.models import Knowledge
from triage.reasoning.inference.evidence import Evidence, Likelihoods
from triage.reasoning.inference.evidence_rows import side_by_side
from triage.reasoning.inference.making import NOTHING_MORE, Layers, Sums, complaining, strengths, summed
from triage.reasoning.inference.network import Network, Numbers, network_of
from triage.reasoning.inference.posterior import joint
from triage.reasoning.inference.rounding import compared
from triage.record.weights import Weights

CausePlaces = tuple[int, ...]
"""The places of the causes that an end puts right."""


@dataclass(frozen=True)
class Stakes:
    """What is at stake with one complaint at one vehicle.

    Args:
        network: the causes and signs of the vehicle.
        symptom: the complaint.
        for_nothing_min: what putting each cause right costs that did not make it; shape (n,) [min].
        layers: what a complaint costs that stays.
    """

    network: Network
    symptom: str
    for_nothing_min: Numbers
    layers: Layers

    def summed(self, known: Evidence, pieces: Sequence[Likelihoods] = NOTHING_MORE) -> Sums:
        """Sum up pieces of evidence."""
        return summed(self.network, self.symptom, known, pieces, self.layers)

    def costs(self, sums: Sums) -> Numbers:
        """What it costs to put nothing right, and each cause, times the probability of its piece; shape (p, n + 1)."""
        costs = sums.stays.copy()
        costs[:, 1:] += (sums.chance[:, None] - sums.made) * self.for_nothing_min
        return costs

    def best(self, sums: Sums) -> CausePlaces:
        """What costs least for the first piece: nothing, or one cause; of equal ones the first."""
        at = int(compared(self.costs(sums)[0] / sums.chance[0]).argmin())
        return (at - 1,) if at else ()

    def cost_min(self, known: Evidence, named: CausePlaces, sums: Sums) -> float:
        """What an end costs that puts causes right, for what is known [min].

        Args:
            known: the evidence.
            named: the causes.
            sums: its sums.
        """
        if len(named) <= 1:
            return float(self.costs(sums)[0, named[0] + 1 if named else 0] / sums.chance[0])
        for_nothing = sum((sums.chance[0] - sums.made[0, at]) * self.for_nothing_min[at] for at in named)
        stays = sum(step * _stays(among, self.symptom, known, named) for step, among in self.layers)
        return float((for_nothing + stays) / sums.chance[0])

    def gone(self, known: Evidence, named: CausePlaces) -> float:
        """Probability that the complaint is gone where these causes are put right [1]."""
        chance = float(self.summed(known).chance[0])
        return 1.0 - _stays(self.network, self.symptom, known, named) / chance if chance > 0.0 else 0.0

    def any_made(self, known: Evidence, named: CausePlaces, sums: Sums) -> float:
        """Probability that at least one of these causes made the complaint [1]."""
        if len(named) <= 1:
            return float(sum(sums.made[0, at] for at in named) / sums.chance[0])
        return float(_any_made(self.network, self.symptom, known, named) / sums.chance[0])

    def with_rates(self, base_rates: Numbers) -> "Stakes":
        """The same where circumstances have shifted how likely causes are beforehand."""
        layers = [(step, among.with_rates(base_rates)) for step, among in self.layers]
        return replace(self, network=self.network.with_rates(base_rates), layers=layers)


def _any_made(among: Network, symptom: str, known: Evidence, named: Collection[int]) -> float:
    """Chance of the evidence, and that at least one of these causes made the complaint."""
    others = [at for at in range(len(among.causes) + 1) if at not in named]
    return _stays(among, symptom, known, others)


def _stays(among: Network, symptom: str, known: Evidence, named: Collection[int]) -> float:
    """Chance of the evidence, and that something else than these causes made the complaint."""
    among, sign = complaining(among, symptom)
    pushes = strengths(among, sign)
    pushes[list(named)] = 0.0
    other = replace(among, chances={**among.chances, sign: np.stack([1.0 - pushes, pushes])})
    told, chance = (1.0, 0.0), 0.0
    for one in known:
        rest = {name: likelihood for name, likelihood in one.signs.items() if name != sign}
        (every,), _ = joint(other, side_by_side(other, rest))
        (quiet,), _ = joint(other, side_by_side(other, {**rest, sign: told}))
        chance += one.weight * one.signs.get(sign, (1.0, 1.0))[-1] * (every - quiet)
    return chance


def stakes_of(knowledge: Knowledge, pulley: str, symptom: str, weights: Weights) -> Stakes:
    """What is at stake with a complaint in a shop.

    Args:
        knowledge: causes and signs.
        pulley: the specified pulley type.
        symptom: the complaint.
        weights: the shop's figures.
    """
    return staked(network_of(knowledge, pulley), symptom, weights)


def staked(network: Network, symptom: str, weights: Weights) -> Stakes:
    """The same for a network."""
    network, sign = complaining(network, symptom)
    left_in = np.array([*map(weights.left_in, network.causes), weights.left_in_min])
    levels = np.unique(left_in)
    layers = [
        (float(step), network if level == levels[0] else _among(network, sign, left_in >= level))
        for level, step in zip(levels, np.diff(levels, prepend=0.0), strict=True)
    ]
    for_nothing = np.array([weights.for_nothing(cause) for cause in network.causes])
    return Stakes(network, symptom, for_nothing, layers)


def _among(network: Network, sign: str, counted: NDArray[np.bool_]) -> Network:
    """A network in which only some causes make a sign."""
    chances = network.chances[sign].copy()
    chances[1:, ~counted] = 0.0
    chances[0, ~counted] = 1.0
    return replace(network, chances={**network.chances, sign: chances})
