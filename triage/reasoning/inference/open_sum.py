"""What is known of a vehicle, growing by one finding at a time, for the many ways through a tree that begin alike.

The same sum as in `triage.reasoning.inference.posterior`, kept open: a finding about signs that nobody looked at before
multiplies every row with its own few. Where it speaks of a sign that is known already, or too many digits would be
lost, the sum is worked out anew.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from triage.reasoning.inference.evidence_rows import Likelihoods, side_by_side
from triage.reasoning.inference.network import Network, Numbers
from triage.reasoning.inference.posterior import joint

MOST_LOSS = 1e11
"""Sum of magnitudes over sum: beyond this fewer than five of the sixteen digits would be left."""


@dataclass(frozen=True)
class Terms:
    """Signed terms, r of them, over n causes.

    Args:
        weights: sign and weight of each; shape (r,) [1].
        rows: what each says of each cause when it is present, the leak last; shape (r, n + 1) [1].
    """

    weights: Numbers
    rows: Numbers

    def times(self, other: "Terms") -> "Terms":
        """Each term of one with each of the other."""
        # Given all causes, signs are independent of each other: rows multiply cause by cause, weights as well.
        rows = (self.rows[:, None, :] * other.rows).reshape(-1, self.rows.shape[1])
        return Terms(np.outer(self.weights, other.weights).ravel(), rows)


def terms_of(network: Network, signs: Likelihoods) -> Terms:
    """The terms of likelihoods over signs."""
    terms = Terms(np.ones(1), np.ones((1, len(network.base_rates))))
    for sign, likelihood in signs.items():
        steps = -np.diff(likelihood, append=0.0)
        used = steps.nonzero()[0]
        terms = terms.times(Terms(steps[used], network.chances[sign].cumsum(axis=0)[used]))
    return terms


@dataclass(frozen=True)
class OpenSum:
    """What is known.

    Args:
        network: the causes and signs of the vehicle.
        signs: likelihoods of the levels of the signs that were looked at.
        terms: the sum for them.
    """

    network: Network
    signs: Likelihoods
    terms: Terms

    def after(self, signs: Likelihoods, terms: Terms) -> "OpenSum | None":
        """What is known with more signs, whose terms were worked out beforehand; None where both cannot be."""
        again = self.signs.keys() & signs.keys()
        together = {**self.signs, **signs}
        for sign in again:
            together[sign] = tuple(a * b for a, b in zip(self.signs[sign], signs[sign], strict=True))
            if not any(together[sign]):
                return None
        # Two findings about one sign are no product of two sums: both hold of the same level.
        grown = terms_of(self.network, together) if again else self.terms.times(terms)
        return OpenSum(self.network, together, grown)

    @property
    def rough_chance(self) -> float:
        """Probability of all that is known, as good as its digits are [1]."""
        return max(float(self._products.sum()), 0.0)

    @property
    def chance(self) -> float:
        """Probability of all that is known [1]."""
        total = float(self._products.sum())
        if total * MOST_LOSS >= float(np.abs(self._products).sum()):
            return total
        (exact,), _ = joint(self.network, side_by_side(self.network, self.signs))
        return float(exact)

    @cached_property
    def _products(self) -> Numbers:
        either = self.network.base_rates * self.terms.rows + (1.0 - self.network.base_rates)
        return np.asarray(self.terms.weights * either.prod(axis=1))
