"""How likely each cause is after what was found: exact, with any number of faults present at once.

That a sign stands no higher than some level is, given the causes, a product over the causes. A finding is a signed sum
of such products, and all findings together are one array with a row for each combination and a column for each cause.
Sums of opposite signs lose digits when many results are abnormal; then `triage.reasoning.elimination` does the same
sum without a single subtraction.

Source: Heckerman 1989 (signed sums over two layers), extended from noisy-OR to noisy-MAX; from memory.
"""

import math
from dataclasses import dataclass

import numpy as np

from triage.reasoning.elimination import eliminate
from triage.reasoning.evidence import Evidence
from triage.reasoning.network import Network, Numbers

MOST_ROWS = 64
"""Combinations up to which signed sums are taken: six abnormal results. Beyond, elimination is as quick."""
MOST_LOSS = 1e8
"""Sum of magnitudes over sum: beyond this fewer than eight of the sixteen digits would be left."""


@dataclass(frozen=True)
class Posterior:
    """What is believed of each cause.

    Args:
        causes: probability of each cause, in the order of the network; empty where the evidence contradicts itself.
        chance: probability of the evidence itself, up to the weight of likelihoods [1].
    """

    causes: dict[str, float]
    chance: float


def posterior(network: Network, evidence: Evidence) -> Posterior:
    """Work out how likely each cause is.

    Args:
        network: the causes and signs of the vehicle.
        evidence: what was found, the complaint included.

    Returns:
        The probability of every cause, each by itself: several faults can be present at once, so they need not add up
        to one.
    """
    chance, present = 0.0, np.zeros(len(network.causes))
    for one in evidence:
        weight_of_all, weights = joint(network, one.signs)
        chance += one.weight * weight_of_all
        present += one.weight * weights
    if chance <= 0.0:
        return Posterior({}, 0.0)
    shares = np.clip(present / chance, 0.0, 1.0)
    return Posterior(dict(zip(network.causes, shares.tolist(), strict=True)), chance)


def joint(network: Network, signs: dict[str, tuple[float, ...]]) -> tuple[float, Numbers]:
    """Probability of likelihoods over signs, alone and together with each cause; the latter of shape (n,) [1]."""
    steps = {sign: -np.diff(likelihood, append=0.0) for sign, likelihood in signs.items()}
    if math.prod(np.count_nonzero(step) for step in steps.values()) > MOST_ROWS:
        return eliminate(network, signs)
    weights, rows = np.ones(1), np.ones((1, len(network.base_rates)))
    for sign, step in steps.items():
        used = step.nonzero()[0]
        below = network.chances[sign].cumsum(axis=0)[used]
        rows = (rows[:, None, :] * below).reshape(-1, rows.shape[1])
        weights = (weights[:, None] * step[used]).ravel()
    present = network.base_rates * rows
    either = present + (1.0 - network.base_rates)
    products = weights * either.prod(axis=1)
    total = products.sum()
    if total * MOST_LOSS < np.abs(products).sum():
        return eliminate(network, signs)
    shares = np.divide(present, either, out=np.zeros_like(present), where=either > 0.0)
    return float(total), (products @ shares)[:-1]
