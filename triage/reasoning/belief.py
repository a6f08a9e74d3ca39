"""What is known of a vehicle, growing by one finding at a time, for the many ways through a tree that begin alike.

The same sum as in `triage.reasoning.posterior`, kept open: a finding about signs that nobody looked at before
multiplies every row with its own few. Where it speaks of a sign that is known already, or too many digits would be
lost, the sum is worked out anew.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from triage.reasoning.network import Network, Numbers
from triage.reasoning.posterior import joint
from triage.reasoning.rows import side_by_side

MOST_LOSS = 1e11
"""Sum of magnitudes over sum: beyond this fewer than five of the sixteen digits would be left."""

Likelihoods = Mapping[str, tuple[float, ...]]


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
class Belief:
    """What is known.

    Args:
        network: the causes and signs of the vehicle.
        signs: likelihoods of the levels of the signs that were looked at.
        terms: the sum for them.
    """

    network: Network
    signs: Likelihoods
    terms: Terms

    def after(self, signs: Likelihoods, terms: Terms) -> "Belief | None":
        """What is known with more signs, whose terms were worked out beforehand; None where both cannot be."""
        again = self.signs.keys() & signs.keys()
        together = {**self.signs, **signs}
        for sign in again:
            together[sign] = tuple(a * b for a, b in zip(self.signs[sign], signs[sign], strict=True))
            if not any(together[sign]):
                return None
        grown = terms_of(self.network, together) if again else self.terms.times(terms)
        return Belief(self.network, together, grown)

    @property
    def rough_chance(self) -> float:
        """Probability of all that is known, as good as its digits are [1]."""
        return max(float(self._products.sum()), 0.0)

    @property
    def chance(self) -> float:
        """Probability of all that is known [1]."""
        return self._summed[0]

    @cached_property
    def causes(self) -> Numbers:
        """Probability of each cause; shape (n,) [1]."""
        chance, lost = self._summed
        if lost:
            (chance,), (present,) = joint(self.network, side_by_side(self.network, self.signs))
            return np.asarray(np.clip(present / chance, 0.0, 1.0))
        shares = np.divide(self._present, self._either, out=np.zeros_like(self._present), where=self._either > 0.0)
        return np.asarray(np.clip((self._products[:, None] * shares).sum(axis=0)[:-1] / chance, 0.0, 1.0))

    def any_of(self, causes: Collection[int]) -> float:
        """Probability that at least one of these causes is there [1]."""
        key = frozenset(causes)
        if key not in self._any:
            self._any[key] = self._any_of(list(key))
        return self._any[key]

    def _any_of(self, causes: list[int]) -> float:
        if len(causes) <= 1:
            return float(self.causes[causes].sum())
        rates = self.network.base_rates.copy()
        rates[causes] = 0.0
        without = replace(self, network=replace(self.network, base_rates=rates))
        # Without what explains the findings little may be left; digits count beside the whole, not beside that.
        left = without.chance if self._summed[1] else without.rough_chance
        kept = float((1.0 - self.network.base_rates[causes]).prod())
        return min(max(1.0 - kept * left / self.chance, 0.0), 1.0)

    @cached_property
    def _any(self) -> dict[frozenset[int], float]:
        return {}

    @cached_property
    def _present(self) -> Numbers:
        return np.asarray(self.network.base_rates * self.terms.rows)

    @cached_property
    def _either(self) -> Numbers:
        return self._present + (1.0 - self.network.base_rates)

    @cached_property
    def _products(self) -> Numbers:
        return np.asarray(self.terms.weights * self._either.prod(axis=1))

    @cached_property
    def _summed(self) -> tuple[float, bool]:
        total = float(self._products.sum())
        if total * MOST_LOSS >= float(np.abs(self._products).sum()):
            return total, False
        (exact,), _ = joint(self.network, side_by_side(self.network, self.signs))
        return float(exact), True
