"""How good a tree is: what it takes, what its ends cost, how often it is right, and with which cause it does worst.

Trees are weighed on the network alone, all by the same measure, whoever made them. A conclusion puts right what it
names; a cause that such a vehicle cannot have is named and renewed for nothing. An end without a cause puts nothing
right, except where the tree leaves it undecided: there the best is made of what is known.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.knowledge.models import Knowledge, Node, Tree
from triage.reasoning.advice.changeover import minutes_of
from triage.reasoning.advice.stakes import CausePlaces, Stakes, stakes_of
from triage.reasoning.inference.network import Network, Numbers
from triage.reasoning.inference.rounding import recorded
from triage.reasoning.route.followed_ways import FollowedWay, NextNode, route_of, ways
from triage.record.weights import Weights

NORMAL_95 = 1.96
"""Half-width of a 95 % interval in standard deviations, for a mean of many draws. Source: normal distribution."""


@dataclass(frozen=True)
class Estimate:
    """A figure and the half-width of its 95 % interval, 0 where chance had no part in it."""

    value: float
    within: float


@dataclass(frozen=True)
class Fate:
    """How vehicles fare whose complaint a certain cause made.

    Args:
        there: share of all vehicles whose complaint it made [1].
        minutes: expected for them [min].
        named: share of them for which it is named, or put right where nothing is decided [1].
    """

    there: float
    minutes: float
    named: float


@dataclass(frozen=True)
class Appraisal:
    """A tree over all vehicles that come with its complaint.

    Args:
        minutes: expected, change-over included [min].
        loss: expected, of its ends [min].
        together: both [min].
        least_loss: expected, were the best made of what is known at each end [min].
        named: share of vehicles for which it names a cause [1].
        right: of those, the share of which a named cause made the complaint [1].
        causes: how vehicles fare with each cause that can make the complaint.
        longest_min: the longest way that was followed [min].
        followed: how many ways were followed.
        drawn: share of vehicles whose way was drawn by chance; 0 where every way was followed [1].
    """

    minutes: Estimate
    loss: Estimate
    together: Estimate
    least_loss: Estimate
    named: Estimate
    right: Estimate
    causes: Mapping[str, Fate]
    longest_min: float
    followed: int
    drawn: float

    @property
    def slowest(self) -> str:
        """The cause that takes the most minutes in the mean."""
        return max(self.causes, key=lambda cause: recorded(self.causes[cause].minutes))

    @property
    def missed(self) -> str:
        """The cause that makes the complaint and is not named most often."""
        return min(self.causes, key=lambda cause: recorded(self.causes[cause].named))


def appraise(
    knowledge: Knowledge, symptom: str, routes: Mapping[str, NextNode], weights: Weights, floor: float
) -> Appraisal:
    """Weigh a tree, or any other route.

    Args:
        knowledge: causes, signs and checks.
        symptom: the complaint.
        routes: the route for each specified pulley type; each type counts alike.
        weights: what checks and change-over take, and what wrong ends cost.
        floor: share of vehicles below which branches are drawn for; 0 makes every figure exact [1].
    """
    rows: list[_Row] = []
    for pulley, route in routes.items():
        stakes = stakes_of(knowledge, pulley, symptom, weights)
        followed = ways(knowledge, symptom, route, stakes.network, pulley, minutes_of(weights), floor)
        rows += [_row(way, stakes, weights, way.share / len(routes)) for way in followed]
    return _appraisal(rows)


def routes_of(knowledge: Knowledge, tree: Tree, pulleys: Iterable[str]) -> dict[str, NextNode]:
    """The routes of one tree by specified pulley type."""
    return {pulley: route_of(knowledge, tree, pulley) for pulley in pulleys}


def named_in(network: Network, node: Node, weights: Weights) -> tuple[CausePlaces, float]:
    """What a node puts right, by place, and what causes cost that it names and such a vehicle cannot have [min]."""
    places = {cause: at for at, cause in enumerate(network.causes)}
    named = tuple(places[cause] for cause in node.conclude if cause in places)
    return named, sum(weights.for_nothing(cause) for cause in node.conclude if cause not in places)


@dataclass(frozen=True)
class _Row:
    """One way, with the probability of each cause of the complaint, and those that are put right."""

    share: float
    drawn: bool
    minutes: float
    loss: float
    least_loss: float
    named: float
    right: float
    made: Mapping[str, float]
    put_right: frozenset[str]


def _row(way: FollowedWay, stakes: Stakes, weights: Weights, share: float) -> _Row:
    network, known = stakes.network, way.known
    sums = stakes.summed(known)
    made, best = np.clip(sums.made[0] / sums.chance[0], 0.0, 1.0).tolist(), stakes.best(sums)
    named, in_vain_min = named_in(network, way.node, weights)
    put_right = best if way.node.end == "undecided" else named
    loss = stakes.cost_min(known, put_right, sums) + in_vain_min
    return _Row(
        share=share,
        drawn=way.drawn,
        minutes=way.minutes,
        loss=loss,
        least_loss=min(stakes.cost_min(known, best, sums), loss),
        named=float(bool(way.node.conclude)),
        right=stakes.any_made(known, named, sums),
        made={network.causes[at]: share for at, share in enumerate(made) if share},
        put_right=frozenset(network.causes[at] for at in put_right),
    )


def _appraisal(rows: list[_Row]) -> Appraisal:
    share = np.array([row.share for row in rows])
    drawn = np.array([row.drawn for row in rows])
    minutes, loss, least_loss, named, right = (
        np.array([getattr(row, name) for row in rows]) for name in ("minutes", "loss", "least_loss", "named", "right")
    )
    every = np.ones_like(share)
    return Appraisal(
        minutes=_mean(share, drawn, minutes, every),
        loss=_mean(share, drawn, loss, every),
        together=_mean(share, drawn, minutes + loss, every),
        least_loss=_mean(share, drawn, least_loss, every),
        named=_mean(share, drawn, named, every),
        right=_mean(share, drawn, right, named),
        causes={cause: _fate(rows, cause) for cause in dict.fromkeys(cause for row in rows for cause in row.made)},
        longest_min=float(minutes.max()),
        followed=len(rows),
        drawn=float(share[drawn].sum()),
    )


def _mean(share: Numbers, drawn: NDArray[np.bool_], values: Numbers, among: Numbers) -> Estimate:
    """Mean over the vehicles that count.

    A draw stands for one branch alone, yet the half-width takes it as far from the other draws as they are from each
    other: rather too wide than too narrow.
    """
    counted = float((share * among).sum())
    if counted <= 0.0:
        return Estimate(0.0, 0.0)
    mean = float((share * values).sum()) / counted
    of, apart = share[drawn], (values - mean * among)[drawn]
    spread = of * (apart - (of * apart).sum() / max(float(of.sum()), 1e-300))
    return Estimate(mean, NORMAL_95 * float(np.sqrt((spread**2).sum())) / counted)


def _fate(rows: list[_Row], cause: str) -> Fate:
    shares = [row.share * row.made.get(cause, 0.0) for row in rows]
    there = sum(shares)
    minutes = sum(share * row.minutes for share, row in zip(shares, rows, strict=True))
    named = sum(share for share, row in zip(shares, rows, strict=True) if cause in row.put_right)
    return Fate(there, minutes / there, named / there)
