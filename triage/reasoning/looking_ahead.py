"""How to go on with a search: what each check is expected to cost down to the end, looking ahead.

With as many steps as there are checks the answer is exact. With fewer, what lies beyond is taken to be a plain chain:
the check that tells most for its minutes, then the next one, as long as each has its most probable outcome. Where it
has another, the search ends there, or after one more check. A chain can be walked, so what it costs is never less than
what the best route costs.

Source: rollout of a base heuristic (Bertsekas & Castañon 1999), information gain for a cost as the heuristic
(Pattipati & Alexandridis 1990), both from memory.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from triage.reasoning.network import Numbers
from triage.reasoning.rounding import compared, even
from triage.reasoning.sequencing import (
    Outlook,
    Position,
    Problem,
    allowed,
    costs_of_ends,
    end,
    ended_after,
    entropy_bits,
    followed,
    opens_more,
    outlook,
)

POSSIBLE = 1e-9
"""Outcomes below this chance are not looked at."""
LEAVING = 0.08
"""Share of vehicles from which those that leave a chain are looked at one check further. Source: from-memory."""
NOTHING_BITS = 1e-9
"""A check that tells no more than this is a matter of order alone."""


@dataclass(frozen=True)
class Choice:
    """A check that may come next.

    Args:
        check: its index.
        cost_min: expected minutes and loss from here to the end when it comes next [min].
    """

    check: int
    cost_min: float


def choices(problem: Problem, position: Position, steps: int, breadth: int | None = None) -> list[Choice]:
    """What each check that may come next costs down to the end, the best first; of equal ones the first.

    Args:
        problem: the problem.
        position: where the search stands.
        steps: how many steps are looked at in full, at least one.
        breadth: how many checks, those that tell most for their minutes, are looked at; all of them by default.
    """
    seen = outlook(problem, position)
    gains = _gains(problem, position, seen)
    telling = _by_rate(problem, position, gains, allowed(problem, position))
    tried = [Choice(check, _cost(problem, position, seen, check, steps, breadth)) for check in telling[:breadth]]
    return sorted(tried, key=lambda choice: (choice.cost_min, choice.check))


def value(problem: Problem, position: Position, steps: int, breadth: int | None = None) -> float:
    """Expected minutes and loss from here to the end [min]; arguments as for `choices`, `steps` may be none."""
    stop = end(problem, position).cost_min
    if stop <= 0.0:
        return 0.0
    if steps == 0:
        return min(stop, chain(problem, position))
    return min([stop, *(choice.cost_min for choice in choices(problem, position, steps, breadth)[:1])])


def most_telling(problem: Problem, position: Position) -> int | None:
    """The check that tells most for its minutes, one step ahead; None where none tells anything and none opens more."""
    if end(problem, position).cost_min <= 0.0:
        return None
    gains = _gains(problem, position, outlook(problem, position))
    return next(iter(_by_rate(problem, position, gains, _telling(problem, position, gains))), None)


def next_in_order(problem: Problem, position: Position) -> int | None:
    """The first check in the problem's own order that tells something; None where none does."""
    if end(problem, position).cost_min <= 0.0:
        return None
    gains = _gains(problem, position, outlook(problem, position))
    return next(iter(_telling(problem, position, gains)), None)


def _telling(problem: Problem, position: Position, gains: Numbers) -> list[int]:
    """The allowed checks that tell something; where none does, those that may open others."""
    checks = allowed(problem, position)
    return [check for check in checks if gains[check] > NOTHING_BITS] or [
        check for check in checks if opens_more(problem, position, check)
    ]


def _gains(problem: Problem, position: Position, seen: Outlook) -> Numbers:
    """What each check tells; shape (c,) [bit]."""
    now = float(entropy_bits(problem.groups @ position.weights))
    return compared(now - np.add.reduceat(seen.bits, problem.starts))


def _by_rate(problem: Problem, position: Position, gains: Numbers, checks: list[int]) -> list[int]:
    rates = compared(gains / problem.minutes[position.standing])
    return sorted(checks, key=lambda check: -rates[check])


def _cost(problem: Problem, position: Position, seen: Outlook, check: int, steps: int, breadth: int | None) -> float:
    cost = float(problem.minutes[position.standing, check])
    for outcome, chance in enumerate(seen.chances[problem.columns(check)]):
        if chance > POSSIBLE:
            cost += chance * value(problem, followed(problem, position, check, outcome), steps - 1, breadth)
    return even(cost)


def chain(problem: Problem, position: Position) -> float:
    """What the best plain chain from here costs, stopped where that is best [min]."""
    order, spent, expected = _links(problem, position, outlook(problem, position))
    if not order:
        return end(problem, position).cost_min
    likely = [problem.starts[check] + outcome for check, outcome in zip(order, expected, strict=True)]
    told: Numbers = np.column_stack([position.weights, problem.likelihoods[:, likely]])
    along: Numbers = np.multiply.accumulate(told, axis=1)
    spoken = np.logical_or.accumulate(np.column_stack([position.spoken, problem.speaks[:, likely]]), axis=1)
    stops = costs_of_ends(problem, along, spoken).min(axis=0)
    leaving = _leaving(problem, position, order, expected, along, spoken)
    cost = stops[-1]
    for at in reversed(range(len(order))):
        cost = min(stops[at], spent[at] * along[:, at].sum() + leaving[at] + cost)
    return even(cost)


def _leaving(
    problem: Problem,
    position: Position,
    order: list[int],
    expected: list[int],
    along: Numbers,
    spoken: NDArray[np.bool_],
) -> Numbers:
    """What leaving a chain costs at each link, times the share that leaves it there; shape (links,) [min]."""
    aside = [
        (at, outcome)
        for at, check in enumerate(order)
        for outcome in range(problem.sizes[check])
        if outcome != expected[at]
    ]
    links = [at for at, _ in aside]
    columns = [problem.starts[order[at]] + outcome for at, outcome in aside]
    joint = along[:, links] * problem.likelihoods[:, columns]
    said = spoken[:, links] | problem.speaks[:, columns]
    costs = costs_of_ends(problem, joint, said).min(axis=0)
    shares = compared(joint.sum(axis=0))
    for place in np.flatnonzero(shares >= LEAVING):
        at, outcome = aside[place]
        made = {**position.made, **dict(zip(order[:at], expected[:at], strict=True)), order[at]: outcome}
        standing = position.standing
        for check in order[: at + 1]:
            standing = int(problem.after[standing, check])
        there = Position(joint[:, place] / shares[place], said[:, place], standing, made)
        costs[place] = shares[place] * _one_further(problem, there)
    return np.bincount(links, costs, len(order)).astype(np.float64)


def _one_further(problem: Problem, position: Position) -> float:
    """What the search costs when it ends here, or after the one check that is best for that [min]."""
    after = ended_after(problem, position)
    return min([end(problem, position).cost_min, *(float(after[check]) for check in allowed(problem, position))])


def _links(problem: Problem, position: Position, seen: Outlook) -> tuple[list[int], list[float], list[int]]:
    """The checks of a plain chain, the minutes of each, and its most probable outcome, by what they tell now."""
    gains = np.maximum(_gains(problem, position, seen), NOTHING_BITS)
    chances = compared(seen.chances)
    order: list[int] = []
    spent: list[float] = []
    expected: list[int] = []
    made, standing = dict(position.made), position.standing
    while open_now := sorted(set(problem.opens(made)) - made.keys()):
        minutes = problem.minutes[standing]
        check = max(open_now, key=lambda one: even(gains[one] / minutes[one]))
        outcome = int(chances[problem.columns(check)].argmax())
        order, spent, expected = [*order, check], [*spent, float(minutes[check])], [*expected, outcome]
        made[check], standing = outcome, int(problem.after[standing, check])
    return order, spent, expected
