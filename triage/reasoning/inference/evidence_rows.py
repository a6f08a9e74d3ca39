"""Pieces of evidence side by side, so that all of them are worked out in one pass over arrays.

A sign that stands no higher than some level is, given the causes, a product over the causes: it weighs on each of them
by itself. Only signs that say more than that hold causes together and have to be summed over.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from triage.reasoning.inference.evidence import Likelihoods, both
from triage.reasoning.inference.network import Network, Numbers

_Height = tuple[int, float]
"""The level that a sign stands no higher than, and the weight of that."""


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
        pieces: what each of them says besides.
    """
    # A sign that pieces speak of again must not weigh twice: there both likelihoods are multiplied level by level.
    again = common.keys() & {sign for piece in pieces for sign in piece}
    repeated = {sign: likelihood for sign, likelihood in common.items() if sign in again}
    told = [both(piece, repeated) for piece in pieces] if again else pieces
    rest = {sign: likelihood for sign, likelihood in common.items() if sign not in again}
    heights = {sign: height for sign, likelihood in rest.items() if (height := _height(likelihood))}
    each = np.ones((len(pieces), 1))
    shown = {sign: each * likelihood for sign, likelihood in rest.items() if sign not in heights}
    alone, more = _told(network, told)
    return Rows(alone * _product(network, [heights])[0], {**shown, **more})


def _told(network: Network, pieces: Sequence[Likelihoods]) -> tuple[Numbers, dict[str, Numbers]]:
    heights = [{sign: _height(likelihood) for sign, likelihood in piece.items()} for piece in pieces]
    # One piece that says more about a sign puts it into the table for all of them: rows must have the same columns.
    tables = {sign for piece in heights for sign, height in piece.items() if height is None}
    alone = [{sign: height for sign, height in piece.items() if height and sign not in tables} for piece in heights]
    shown = {
        sign: np.array([piece.get(sign, (1.0,) * len(network.chances[sign])) for piece in pieces]) for sign in tables
    }
    return _product(network, alone), shown


def _product(network: Network, pieces: Sequence[Mapping[str, _Height]]) -> Numbers:
    """What signs that stand no higher than some level say of each cause; shape (pieces, n + 1) [1]."""
    factors = [[network.places[sign] + level for sign, (level, _) in piece.items()] for piece in pieces]
    longest = max(map(len, factors))
    # The last place changes nothing: with it all lists become as long as the longest.
    places = np.array([some + [-1] * (longest - len(some)) for some in factors], dtype=np.intp)
    product: Numbers = network.stacked[places].prod(axis=1)
    # The leak is there always, so what weighs the whole piece goes on its column, which no cause's absence can undo.
    product[:, -1] *= [math.prod(weight for _, weight in piece.values()) for piece in pieces]
    return product


@lru_cache(maxsize=4096)
def _height(likelihood: tuple[float, ...]) -> _Height | None:
    """How high a sign stands at most; None where its likelihoods say something else."""
    # (w, …, w, 0, …, 0): the levels up to one all alike and none above it, which is w·P(no higher than that level).
    weight = likelihood[0]
    if weight == 0.0:
        return None if any(likelihood) else (0, 0.0)
    level = likelihood.count(weight) - 1
    even = likelihood == (weight,) * (level + 1) + (0.0,) * (len(likelihood) - level - 1)
    return (level, weight) if even else None
