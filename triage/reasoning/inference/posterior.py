"""How likely each cause is after what was found: exact, with any number of faults present at once.

That a sign stands no higher than some level is, given the causes, a product over the causes. A finding is a signed sum
of such products, and all findings together are one array with a row for each combination and a column for each cause.
Sums of opposite signs lose digits when many results are abnormal; then `triage.reasoning.inference.elimination` does
the same sum without a single subtraction.

Source: Heckerman 1989 (signed sums over two layers), extended from noisy-OR to noisy-MAX; from memory.
"""

import math

import numpy as np

from triage.reasoning.inference.elimination import eliminate
from triage.reasoning.inference.evidence_rows import Rows
from triage.reasoning.inference.network import Network, Numbers

MOST_ROWS = 64
"""Combinations up to which signed sums are taken: six abnormal results. Beyond, elimination is as quick."""
MOST_SUMS = 4000
"""The same, times pieces of evidence. Source: measured, tests/bench/bench_reasoning.py."""
MOST_LOSS = 1e8
"""Sum of magnitudes over sum: beyond this fewer than eight of the sixteen digits would be left."""


def joint(network: Network, rows: Rows) -> tuple[Numbers, Numbers]:
    """Probability of pieces of evidence, alone and together with each cause; of shapes (pieces,), (pieces, n) [1]."""
    # Σ likelihood·P(level) = Σ step·P(no higher than the level), a step being the fall to the next level's likelihood.
    steps = {sign: _steps(shown) for sign, shown in rows.shown.items()}
    used = {sign: np.flatnonzero(step.any(axis=0)) for sign, step in steps.items()}
    count = math.prod(len(levels) for levels in used.values())
    if count > MOST_ROWS or count * len(rows.alone) > MOST_SUMS:
        return eliminate(network, rows)
    weights, products = np.ones((len(rows.alone), 1)), np.ones((1, len(network.base_rates)))
    for sign, levels in used.items():
        products = (products[:, None, :] * network.stacked[network.places[sign] + levels]).reshape(
            -1, products.shape[1]
        )
        weights = (weights[:, :, None] * steps[sign][:, None, levels]).reshape(len(weights), -1)
    # Where no sign stands higher than its level in a row, each cause is there or not by itself: rate·product + 1−rate.
    present = (network.base_rates * rows.alone)[:, None, :] * products
    either = present + (1.0 - network.base_rates)
    sums = weights * either.prod(axis=2)
    total = sums.sum(axis=1)
    # Terms of both signs that nearly cancel leave only rounding; elimination subtracts nothing.
    if (total * MOST_LOSS < np.abs(sums).sum(axis=1)).any():
        return eliminate(network, rows)
    # No cause is certain beforehand, so that nothing here is divided by zero; the leak, which is, stands last.
    shares = present[:, :, :-1] / either[:, :, :-1]
    return total, (sums[:, :, None] * shares).sum(axis=1)


def _steps(shown: Numbers) -> Numbers:
    """What stands no higher than each level adds to likelihoods."""
    steps = shown.copy()
    steps[:, :-1] -= shown[:, 1:]
    return steps
