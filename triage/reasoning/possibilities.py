"""What may be wrong with a vehicle, as a finite list: nothing, single faults, and sets of faults.

Given what is wrong, signs do not depend on each other. So checks do not either, unless they look at the same sign; such
a sign is told apart by its level in the list, and then they do not depend on each other again.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np

from triage.reasoning.evidence import Evidence
from triage.reasoning.network import Network, Numbers
from triage.reasoning.posterior import posterior
from triage.reasoning.rounding import compared

MOST_AT_ONCE = 3
"""Faults that may be there together in the list. Source: from-memory."""
MOST_SETS = 600
"""Sets of faults that are kept: those of at most two, then the likeliest. Source: from-memory."""
MOST_SPLIT = 600
"""Possibilities that are kept where signs are told apart by their levels, the likeliest. Source: from-memory."""

Levels = Mapping[str, Numbers]
"""By sign, probability of each level in each possibility; shape (s, levels) [1]."""


@dataclass(frozen=True)
class Possibilities:
    """A list of s possibilities over n causes.

    Args:
        faults: which causes are present; shape (s, n) [1].
        weights: probability of each after what is known, together one; shape (s,) [1].
        levels: of every sign that is looked at or known about.
        kept: share of all probability that the list holds [1].
    """

    faults: Numbers
    weights: Numbers
    levels: Levels
    kept: float


def possibilities(network: Network, known: Evidence, signs: Collection[str], split: Collection[str]) -> Possibilities:
    """List what may be wrong.

    Args:
        network: the causes and signs of the vehicle.
        known: the complaint and what was found, without contradictions.
        signs: the signs that checks look at.
        split: those that more than one check looks at.
    """
    wanted = sorted({*signs, *(sign for one in known for sign in one.signs)})
    faults = _sets(len(network.causes))
    rates = network.base_rates[:-1]
    before = np.where(faults > 0.0, rates, 1.0 - rates).prod(axis=1)
    weights = before * likelihood(known, _levels(network, wanted, faults), len(faults))
    # A rare fault has to be in the list before something speaks for it.
    order = np.lexsort((-compared(weights / weights.sum()), faults.sum(axis=1) > 2.0))[:MOST_SETS]
    faults, before = faults[order], before[order]
    levels = _levels(network, wanted, faults)
    for sign in sorted(split):
        faults, before, levels = _told_apart(faults, before, levels, sign)
        weights = before * likelihood(known, levels, len(faults))
        likely = np.argsort(-compared(weights / weights.sum()), kind="stable")[:MOST_SPLIT]
        faults, before = faults[likely], before[likely]
        levels = {other: rows[likely] for other, rows in levels.items()}
    weights = before * likelihood(known, levels, len(faults))
    shares = compared(weights / weights.sum())
    return Possibilities(faults, shares / shares.sum(), levels, float(weights.sum()) / posterior(network, known).chance)


def likelihood(evidence: Evidence, levels: Levels, size: int) -> Numbers:
    """How well each possibility explains evidence; shape (s,) [1]."""
    total = np.zeros(size)
    for one in evidence:
        product = np.full(size, one.weight)
        for sign, shown in one.signs.items():
            product = product * (levels[sign] * np.array(shown)).sum(axis=1)
        total += product
    return total


def _levels(network: Network, signs: Collection[str], faults: Numbers) -> dict[str, Numbers]:
    return {sign: _level(network, sign, faults) for sign in signs}


def _level(network: Network, sign: str, faults: Numbers) -> Numbers:
    below = network.chances[sign].cumsum(axis=0)
    # No strength is certain, so every logarithm is finite but for levels that a leak of 1 would rule out.
    logs = np.log(np.maximum(below[:, :-1], 1e-300))
    together = np.exp(faults @ logs.T) * below[:, -1]
    return compared(np.diff(together, axis=1, prepend=0.0))


def _told_apart(
    faults: Numbers, before: Numbers, levels: Mapping[str, Numbers], sign: str
) -> tuple[Numbers, Numbers, dict[str, Numbers]]:
    """Each possibility once for each level of a sign, which then is certain."""
    own = levels[sign]
    count = own.shape[1]
    repeated = {other: np.repeat(rows, count, axis=0) for other, rows in levels.items()}
    repeated[sign] = np.tile(np.eye(count), (len(faults), 1))
    return np.repeat(faults, count, axis=0), (before[:, None] * own).ravel(), repeated


@cache
def _sets(causes: int) -> Numbers:
    chosen = [some for size in range(MOST_AT_ONCE + 1) for some in combinations(range(causes), size)]
    faults = np.zeros((len(chosen), causes))
    for row, some in enumerate(chosen):
        faults[row, list(some)] = 1.0
    return faults
