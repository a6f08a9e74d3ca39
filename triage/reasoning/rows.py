"""Pieces of evidence side by side, so that all of them are worked out in one pass over arrays.

A sign that stands no higher than some level is, given the causes, a product over the causes: it weighs on each of them
by itself. Only signs that say more than that hold causes together and have to be summed over.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from triage.reasoning.network import Network, Numbers

Likelihoods = Mapping[str, tuple[float, ...]]


@dataclass(frozen=True)
class Rows:
    """So many pieces of evidence about one network with n causes.

    Args:
        alone: what the signs that stand no higher than some level say of each cause when it is present, the leak last;
            shape (pieces, n + 1) [1].
        shown: by sign, the likelihoods of the levels of the others; shape (pieces, levels) [1].
    """

    alone: Numbers
    shown: dict[str, Numbers]


def side_by_side(network: Network, common: Likelihoods, pieces: Sequence[Likelihoods] = ({},)) -> Rows:
    """Lay pieces of evidence side by side.

    Args:
        network: the causes and signs of the vehicle.
        common: what holds in all of them.
        pieces: what each of them says; where it speaks of a common sign, in place of that.
    """
    apart = {sign for piece in pieces for sign in piece}
    heights = {sign: height for sign in common if sign not in apart if (height := _height(common[sign]))}
    together = np.ones(len(network.base_rates))
    for sign, (level, weight) in heights.items():
        together *= network.below[sign][level]
        together[-1] *= weight
    shown = {
        sign: np.tile(likelihood, (len(pieces), 1))
        for sign, likelihood in common.items()
        if sign not in apart and sign not in heights
    }
    alone = np.tile(together, (len(pieces), 1))
    for sign in apart:
        _lay(network, sign, [piece.get(sign, common.get(sign)) for piece in pieces], alone, shown)
    return Rows(alone, shown)


def _height(likelihood: tuple[float, ...]) -> tuple[int, float] | None:
    """The level that a sign stands no higher than, and the weight of that; None where it says something else."""
    weight = likelihood[0]
    level = sum(1 for one in likelihood if one == weight) - 1
    return (level, weight) if weight > 0 and not any(likelihood[level + 1 :]) else None


def _lay(
    network: Network,
    sign: str,
    likelihoods: Sequence[tuple[float, ...] | None],
    alone: Numbers,
    shown: dict[str, Numbers],
) -> None:
    """Lay one sign, about which the pieces differ, beside the others; None where nothing is known of it."""
    levels = len(network.below[sign])
    heights = {told: _height(told) for told in set(likelihoods) if told is not None}
    if None in heights.values():
        shown[sign] = np.array([told or (1.0,) * levels for told in likelihoods])
        return
    for told, height in heights.items():
        if height:
            level, weight = height
            those = [told == one for one in likelihoods]
            alone[those] *= network.below[sign][level]
            alone[those, -1] *= weight
