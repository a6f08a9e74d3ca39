"""What a wrong end costs, in minutes of the bay: parts changed for nothing, and faults left in that come back.

What is lost adds up over the causes, each by itself: a cause that is put right without being there costs its work and
part, a cause that is there and left in costs a second visit. So the best choice is made cause by cause from its
probability alone, and its expected loss is exact with any number of faults at once.
"""

from collections.abc import Container
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.reasoning.network import Network, Numbers
from triage.record.weights import Weights


@dataclass(frozen=True)
class Losses:
    """What each wrong choice costs, for n causes in the order of a network.

    Args:
        for_nothing_min: a part renewed that was sound, shape (n,) [min].
        left_in_min: a fault that stays in, shape (n,) [min].
    """

    for_nothing_min: Numbers
    left_in_min: Numbers

    def of(self, probabilities: Numbers, renewed: NDArray[np.bool_]) -> Numbers:
        """Expected loss of a choice.

        Args:
            probabilities: of each cause, shape (..., n) [1].
            renewed: whether each cause is put right, shape (..., n) [1].

        Returns:
            The expected loss, shape (...) [min].
        """
        wrong = np.where(renewed, (1.0 - probabilities) * self.for_nothing_min, probabilities * self.left_in_min)
        return np.asarray(wrong.sum(axis=-1))

    def renewed(self, probabilities: Numbers) -> NDArray[np.bool_]:
        """Whether putting each cause right costs less than leaving it, shape (..., n)."""
        return (1.0 - probabilities) * self.for_nothing_min < probabilities * self.left_in_min

    def least(self, probabilities: Numbers) -> Numbers:
        """Expected loss of the best choice; shapes as in `of`."""
        for_nothing = (1.0 - probabilities) * self.for_nothing_min
        return np.asarray(np.minimum(for_nothing, probabilities * self.left_in_min).sum(axis=-1))


def losses_of(network: Network, weights: Weights, relevant: Container[str] | None = None) -> Losses:
    """The losses for a network's causes by a shop's figures.

    Args:
        network: the causes of the vehicle.
        weights: the shop's figures.
        relevant: the causes that cost something where they stay in; all of them by default.
    """
    left_in = [weights.left_in(cause) if relevant is None or cause in relevant else 0.0 for cause in network.causes]
    return Losses(np.array([weights.for_nothing(cause) for cause in network.causes]), np.array(left_in))
