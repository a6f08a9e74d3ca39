"""Which check comes next: the bare problem, without a word of belts and bearings.

The vehicle is in one of many possibilities, each with its probability. A check has outcomes whose chances depend on the
possibility alone, takes minutes that depend on how the vehicle stands, and may need others made before it. At the end
something is concluded, and what is concluded costs minutes where it is wrong. Everything is weighed in minutes.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from triage.reasoning.network import Numbers
from triage.reasoning.rounding import compared, even

NOT_DONE = -1
"""Stands for "could not be done" among the outcomes."""


@dataclass(frozen=True)
class Problem:
    """A search among s possibilities with c checks, k outcomes in all, v ways in which the vehicle may stand.

    Args:
        weights: probability of each possibility; shape (s,) [1].
        likelihoods: chance of each outcome of each check in each possibility, the checks side by side; shape (s, k).
        sizes: how many outcomes each check has; shape (c,).
        minutes: of each check from each standing; shape (v, c) [min].
        after: how the vehicle stands when a check was made; shape (v, c).
        ends: what each end costs in each possibility; shape (e, s) [min].
        names: the causes that each end names; shape (e, n) [1].
        speaks: whether an outcome speaks for a cause; an end is open only where something spoke for every cause that
            it names, so that nothing is concluded from what was not found alone; shape (n, k).
        groups: which possibilities count as one when it is asked how much is known; shape (g, s), each column one 1.
        opens: which checks may be made, from the outcomes so far; safety lives there, and has no price.
    """

    weights: Numbers
    likelihoods: Numbers
    sizes: tuple[int, ...]
    minutes: Numbers
    after: NDArray[np.int64]
    ends: Numbers
    names: Numbers
    speaks: NDArray[np.bool_]
    groups: Numbers
    opens: Callable[[Mapping[int, int]], Collection[int]]

    @cached_property
    def starts(self) -> NDArray[np.int64]:
        """Column at which each check begins; shape (c,)."""
        return np.cumsum([0, *self.sizes])[:-1]

    def columns(self, check: int) -> slice:
        """The columns of a check's outcomes."""
        start = int(self.starts[check])
        return slice(start, start + self.sizes[check])


@dataclass(frozen=True)
class Position:
    """Where a search stands.

    Args:
        weights: probability of each possibility now; shape (s,) [1].
        spoken: the causes that something spoke for; shape (n,).
        standing: how the vehicle stands.
        made: outcome of each check that was made, `NOT_DONE` where it could not be.
    """

    weights: Numbers
    spoken: NDArray[np.bool_]
    standing: int = 0
    made: Mapping[int, int] = field(default_factory=dict)


def root(problem: Problem) -> Position:
    """Where a search begins."""
    return Position(problem.weights, np.zeros(problem.names.shape[1], dtype=np.bool_))


def followed(problem: Problem, position: Position, check: int, outcome: int) -> Position:
    """Where a search stands after an outcome; what could not be done tells nothing and moves nothing."""
    made = {**position.made, check: outcome}
    if outcome == NOT_DONE:
        return replace(position, made=made)
    column = problem.starts[check] + outcome
    joint = position.weights * problem.likelihoods[:, column]
    spoken = position.spoken | problem.speaks[:, column]
    return Position(joint / joint.sum(), spoken, int(problem.after[position.standing, check]), made)


def allowed(problem: Problem, position: Position) -> list[int]:
    """The checks that may come next, in their order: those that are open and not made yet."""
    return sorted(set(problem.opens(position.made)) - position.made.keys())


def opens_more(problem: Problem, position: Position, check: int) -> bool:
    """Whether an outcome of a check lets others be made that must not be made now."""
    now = set(problem.opens(position.made))
    made = (problem.opens({**position.made, check: outcome}) for outcome in range(problem.sizes[check]))
    return any(not now.issuperset(open_then) for open_then in made)


@dataclass(frozen=True)
class End:
    """The best end for what is known: its index, and what it is expected to cost [min]."""

    index: int
    cost_min: float


def end(problem: Problem, position: Position) -> End:
    """The end that costs least now; of equal ones the first."""
    costs = costs_of_ends(problem, position.weights[:, None], position.spoken[:, None])[:, 0]
    best = int(costs.argmin())
    return End(best, float(costs[best]))


def costs_of_ends(problem: Problem, joint: Numbers, spoken: NDArray[np.bool_]) -> Numbers:
    """What each end would cost, infinite where it is not open.

    Args:
        problem: the problem.
        joint: weights of the possibilities in m situations; shape (s, m) [1].
        spoken: the causes that something spoke for in each; shape (n, m).

    Returns:
        The costs, times the weight of each situation; shape (e, m) [min].
    """
    return np.where(problem.names @ ~spoken > 0.0, np.inf, compared(problem.ends @ joint))


@dataclass(frozen=True)
class Outlook:
    """What each outcome of each check would do, the checks side by side as in the problem.

    Args:
        chances: probability of the outcome; shape (k,) [1].
        costs_min: what the best end would cost after it, times its chance; shape (k,) [min].
        bits: entropy over the groups after it, times its chance; shape (k,) [bit].
    """

    chances: Numbers
    costs_min: Numbers
    bits: Numbers


def outlook(problem: Problem, position: Position) -> Outlook:
    """What each check would do from here."""
    joint, scale = _told(problem, position)
    bits = compared(entropy_bits(problem.groups @ joint))
    return Outlook(joint.sum(axis=0) / scale, _ended(problem, position, joint) / scale, bits / scale)


def ended_after(problem: Problem, position: Position) -> Numbers:
    """What the search costs when it ends right after each check, the check itself included; shape (c,) [min]."""
    joint, scale = _told(problem, position)
    costs = _ended(problem, position, joint) / scale
    return np.asarray(np.add.reduceat(costs, problem.starts) + problem.minutes[position.standing])


def last_resort(problem: Problem, position: Position) -> int | None:
    """The check that is likeliest, for its minutes, to name something where the search would end with nothing named.

    Nobody sends a vehicle away with nothing found while a look is left that could find something, whether it pays or
    not. Where none of the checks that may come now can, it is one that lets others be made. None where something is
    named already, or nothing is left.
    """
    if problem.names[end(problem, position).index].any():
        return None
    joint, scale = _told(problem, position)
    best = costs_of_ends(problem, joint, position.spoken[:, None] | problem.speaks).argmin(axis=0)
    named = np.where(problem.names[best].any(axis=1), joint.sum(axis=0) / scale, 0.0)
    rates = np.add.reduceat(named, problem.starts) / problem.minutes[position.standing]
    left = allowed(problem, position)
    naming = [check for check in left if rates[check] > 0.0]
    opening = [check for check in left if opens_more(problem, position, check)]
    return max(naming or opening, key=lambda check: even(rates[check]), default=None)


def _told(problem: Problem, position: Position) -> tuple[Numbers, Numbers]:
    """Weights of the possibilities with each outcome, shape (s, k), and what makes a check's outcomes one in all."""
    joint = position.weights[:, None] * problem.likelihoods
    totals = np.add.reduceat(joint.sum(axis=0), problem.starts)
    return joint, np.repeat(np.where(totals > 0.0, totals, 1.0), problem.sizes)


def _ended(problem: Problem, position: Position, joint: Numbers) -> Numbers:
    return np.asarray(costs_of_ends(problem, joint, position.spoken[:, None] | problem.speaks).min(axis=0))


def entropy_bits(shares: Numbers) -> Numbers:
    """Entropy of each column, times its sum; shape (g, …) to (…) [bit].

    Source: Shannon 1948, from memory.

    >>> round(float(entropy_bits(np.array([0.5, 0.25, 0.25]))), 3)
    1.5
    """
    total = shares.sum(axis=0)
    return np.asarray(_times_log(total) - _times_log(shares).sum(axis=0))


def _times_log(values: Numbers) -> Numbers:
    return np.asarray(values * np.log2(np.where(values > 0.0, values, 1.0)))
