"""A lower bound: what no route can undercut, so that a grown one can say how far from the best it may be.

The cost of a route is cut into as many shares as there are things to pay for: each check, and each turn of the vehicle
that several checks need. A share bears part of what the end costs and pays for one of these things alone; everything
else is told to it for nothing, before it decides. So each share is a choice of one or the other, and together they
never cost more than any route does. How what the end costs is best cut is found step by step on one half of the drawn
vehicles and counted on the other half.

Source: information relaxation with a cost split over the decisions (Lagrangian decomposition, textbook method; perfect
information relaxations after Brown, Smith & Sun 2010), from memory.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from triage.reasoning.network import Numbers
from triage.reasoning.sequencing import Position, Problem

DRAWN = 400
"""Vehicles that are drawn."""
SEED = 5
STEPS = 300
"""Steps in which the cut is improved."""


@dataclass(frozen=True)
class Turn:
    """Something that several checks need and that is paid once at least.

    Args:
        minutes: its least cost [min].
        checks: those that need it.
    """

    minutes: float
    checks: tuple[int, ...]


@dataclass(frozen=True)
class Bound:
    """No route is expected to cost less; drawn, so with a standard error.

    Args:
        cost_min: the bound [min].
        error_min: its standard error [min].
    """

    cost_min: float
    error_min: float


def lower_bound(problem: Problem, root: Position, turns: Sequence[Turn]) -> Bound:
    """Bound what any route costs.

    Args:
        problem: the problem.
        root: where the routes begin.
        turns: what several checks need, each paid on top of the checks' own least minutes.
    """
    checks = [check for check in range(len(problem.sizes)) if check not in root.made]
    prices = np.array([*(problem.minutes[:, check].min() for check in checks), *(turn.minutes for turn in turns)])
    drawn = [_drawn(problem, root, checks, turns, number) for number in range(DRAWN)]
    without, paid = (np.array(some) for some in zip(*drawn, strict=True))
    half = DRAWN // 2
    cut = _best_cut(without[:half], paid[:half], prices)
    costs = np.minimum(cut * without[half:], prices + cut * paid[half:]).sum(axis=1)
    return Bound(float(costs.mean()), float(costs.std(ddof=1) / np.sqrt(len(costs))))


def _drawn(
    problem: Problem, root: Position, checks: Sequence[int], turns: Sequence[Turn], number: int
) -> tuple[Numbers, Numbers]:
    """One vehicle with all its results: what the end costs without each thing to pay for, and with it [min]."""
    chance = np.random.default_rng([SEED, number])
    truth = chance.choice(len(root.weights), p=root.weights)
    columns = np.array([_result(problem, truth, check, chance) for check in checks])
    told = problem.likelihoods[:, columns]
    logs = np.log(np.maximum(told, 1e-300))
    every = np.log(np.maximum(root.weights, 1e-300)) + logs.sum(axis=1)
    single = _normal(every[:, None] - logs)
    spans = [problem.columns(check) for check in checks]
    repeated = np.repeat(single, [problem.sizes[check] for check in checks], axis=1)
    results = repeated * np.column_stack([problem.likelihoods[:, span] for span in spans])
    starts = np.cumsum([0, *(problem.sizes[check] for check in checks)])[:-1]
    paid = np.add.reduceat((problem.ends @ results).min(axis=0), starts)
    grouped = [[checks.index(check) for check in turn.checks if check in checks] for turn in turns]
    bare = _normal(np.column_stack([every, *(every - logs[:, group].sum(axis=1) for group in grouped)]))
    known, *lacking = (problem.ends @ bare).min(axis=0)
    without = np.r_[(problem.ends @ single).min(axis=0), lacking]
    return without, np.minimum(np.r_[paid, np.full(len(turns), known)], without)


def _result(problem: Problem, truth: int, check: int, chance: np.random.Generator) -> int:
    columns = problem.columns(check)
    chances = problem.likelihoods[truth, columns]
    return int(columns.start) + int(chance.choice(len(chances), p=chances / chances.sum()))


def _normal(logs: Numbers) -> Numbers:
    weights = np.exp(logs - logs.max(axis=0))
    return np.asarray(weights / weights.sum(axis=0))


def _best_cut(without: Numbers, paid: Numbers, prices: Numbers) -> Numbers:
    """Cut what the end costs so that the bound is greatest; it is concave in the cut, so steps uphill get there."""
    cut = np.full(len(prices), 1.0 / len(prices))
    best, highest = cut, -np.inf
    for step in range(1, STEPS + 1):
        leaves = cut * without <= prices + cut * paid
        value = float(np.where(leaves, cut * without, prices + cut * paid).sum(axis=1).mean())
        if value > highest:
            best, highest = cut, value
        slope = np.where(leaves, without, paid).mean(axis=0)
        cut = cut * np.exp(slope / (np.abs(slope).max() * np.sqrt(step)))
        cut = cut / cut.sum()
    return best
