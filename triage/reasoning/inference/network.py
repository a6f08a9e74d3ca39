"""Causes and the signs that they produce, as a two-layer noisy-MAX network.

Each cause that is present pushes a sign to some level by itself, and the sign shows the highest of them. The leak
stands for everything that is not listed: a cause that is always there. Strengths are those of the cause alone, without
the leak.

Source: Díez 1993 (noisy-MAX) and Henrion 1989 (leak), both from memory.
"""

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from triage.knowledge.models import Knowledge, Sign
from triage.knowledge.scales import BASE_RATES, STRENGTHS, Leak
from triage.reasoning.inference.kept_per_knowledge import kept

Numbers = NDArray[np.float64]
Shifts = Mapping[str, Mapping[str, float]]
"""By circumstance, factors on the odds of causes."""
NO_SHIFTS: Shifts = MappingProxyType({})


@dataclass(frozen=True)
class Network:
    """A network with n causes.

    Args:
        causes: their ids.
        base_rates: probability of each before anything is known, the leak's last and always 1; shape (n + 1,) [1].
        chances: by sign, the probability with which each cause alone produces each level, the leak in the last
            column; shape (levels, n + 1) [1].
    """

    causes: tuple[str, ...]
    base_rates: Numbers
    chances: Mapping[str, Numbers]

    def with_rates(self, base_rates: Numbers) -> "Network":
        """The same network where causes are as likely as this beforehand; what was laid out of it is kept."""
        other = replace(self, base_rates=base_rates)
        other.__dict__.update(stacked=self.stacked, places=self.places)
        return other

    @cached_property
    def stacked(self) -> Numbers:
        """How probably each cause alone leaves a sign no higher than a level: a row for each level of each sign.

        The last row is one throughout. Shape (levels of all signs + 1, n + 1) [1].
        """
        below = [chances.cumsum(axis=0) for chances in self.chances.values()]
        return np.concatenate([*below, np.ones((1, len(self.base_rates)))])

    @cached_property
    def places(self) -> dict[str, int]:
        """By sign, the first of its rows in `stacked`."""
        ends = itertools.accumulate(len(chances) for chances in self.chances.values())
        return {sign: end - len(self.chances[sign]) for sign, end in zip(self.chances, ends, strict=True)}


def network_of(knowledge: Knowledge, pulley: str, shifts: Shifts = NO_SHIFTS) -> Network:
    """The network of a vehicle: only faults that parts of this vehicle can have.

    Args:
        knowledge: causes with their base rates, signs with their strengths.
        pulley: the specified pulley type.
        shifts: what circumstances do to the odds of causes before anything is found.
    """
    network: Network = kept(knowledge, ("network", pulley), lambda: _made(knowledge, pulley))
    return network.with_rates(rates_of(knowledge, network.causes, shifts)) if shifts else network


def _made(knowledge: Knowledge, pulley: str) -> Network:
    fitting = [cause for cause in knowledge.causes.values() if not cause.only_for or pulley in cause.only_for]
    causes = tuple(cause.id for cause in fitting)
    chances = {sign.id: _chances(sign, causes, pulley) for sign in knowledge.signs.values()}
    return Network(causes, rates_of(knowledge, causes, NO_SHIFTS), chances)


def rates_of(knowledge: Knowledge, causes: Sequence[str], shifts: Shifts) -> Numbers:
    """Probability of each cause before anything is found, the leak's last; shape (n + 1,) [1]."""
    rates = (BASE_RATES[knowledge.causes[cause].commonness] for cause in causes)
    return np.array([*(_shifted(rate, cause, shifts) for rate, cause in zip(rates, causes, strict=True)), 1.0])


def _shifted(rate: float, cause: str, shifts: Shifts) -> float:
    factor = math.prod(factors.get(cause, 1.0) for factors in shifts.values())
    return rate * factor / (1.0 - rate + rate * factor)


def _chances(sign: Sign, causes: tuple[str, ...], pulley: str) -> Numbers:
    columns = np.zeros((len(sign.levels), len(causes) + 1))
    abnormal = sign.levels[1:]
    for at, cause in enumerate(causes):
        columns[1:, at] = _row(abnormal, sign.strengths(cause, pulley), 0.0)
    columns[1:, -1] = _row(abnormal, sign.leak, STRENGTHS["rarely"])
    columns[0] = np.maximum(1.0 - columns[1:].sum(axis=0), 0.0)
    return columns


def _row(levels: tuple[str, ...], strengths: Mapping[str, Leak], otherwise: float) -> list[float]:
    return [STRENGTHS[strengths[level]] if level in strengths else otherwise for level in levels]
