"""Growing a route: from where a search stands, the best next check after every outcome, down to the ends.

Branches grow in the order of how many vehicles come to them, so that what is left out at the end is what comes seldom.
"""

import heapq
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from triage.reasoning.looking_ahead import POSSIBLE, Choice, choices
from triage.reasoning.rounding import compared, even
from triage.reasoning.sequencing import (
    NOT_DONE,
    Position,
    Problem,
    allowed,
    end,
    followed,
    last_resort,
    opens_more,
    outlook,
)

BREADTH = 6
"""Checks that are looked at before each step, those that tell most for their minutes. Source: from-memory."""
EXACT = 120
"""Where what is left, with every outcome and in every order, makes no more ways than this, all of them are tried."""
MOST_CHECKS = 150
"""Checks in a grown route; more than this nobody reads. Source: from-memory."""
CANNOT = 0.02
"""How often a check cannot be done, for the order of growing alone. Source: from-memory."""

Opened = tuple[frozenset[int], frozenset[int]]
"""The checks that may be made now, and later."""
Policy = Callable[[Problem, Position], int | None]
"""Which check comes next; None where the search ends."""


@dataclass
class Branch:
    """One place of a grown route: a check with what follows each outcome, or an end.

    Args:
        position: where the search stands.
        share: of all vehicles, those that come here [1].
        check: the check to make; None at an end.
        after: what follows each outcome that can be, `NOT_DONE` where that is planned by itself.
        grown: whether the branch was grown; an end that is left for its rarity was not.
    """

    position: Position
    share: float
    check: int | None = None
    after: dict[int, "Branch"] = field(default_factory=dict)
    grown: bool = False


def best_choice(problem: Problem, position: Position) -> Choice | None:
    """The check that is worth most from here, looking ahead, and what it comes to; None where no check pays."""
    left = allowed(problem, position)
    ways = math.factorial(len(left)) * math.prod(problem.sizes[check] for check in left)
    exact = ways <= EXACT and not any(opens_more(problem, position, check) for check in left)
    steps, breadth = (max(len(left), 1), None) if exact else (1, BREADTH)
    best = choices(problem, position, steps, breadth)[:1]
    stop = end(problem, position).cost_min
    return next((one for one in best if one.cost_min < stop), None)


def best_check(problem: Problem, position: Position) -> int | None:
    """The check of the best choice; where none pays, one that may still keep the search from ending with nothing."""
    best = best_choice(problem, position)
    return best.check if best else last_resort(problem, position)


def grow(
    problem: Problem,
    root: Position,
    progress: Callable[[int, float], None],
    policy: Policy = best_check,
    most_checks: int = MOST_CHECKS,
) -> Branch:
    """Grow a route.

    Args:
        problem: the problem.
        root: where it begins.
        progress: told after each check how many there are and which share of vehicles has come to an end.
        policy: what to do at each place.
        most_checks: how many checks it may have.
    """
    first = Branch(root, 1.0)
    waiting = [(-1.0, 0, first)]
    checks, ended, placed = 0, 0.0, 0
    while waiting and checks < most_checks:
        _, _, branch = heapq.heappop(waiting)
        branch.grown = True
        branch.check = policy(problem, branch.position)
        if branch.check is None:
            ended += branch.share
            continue
        checks += 1
        for child in _children(problem, branch, branch.check):
            placed += 1
            heapq.heappush(waiting, (-even(child.share), placed, child))
        progress(checks, ended)
    return first


def _children(problem: Problem, branch: Branch, check: int) -> list[Branch]:
    """Plan what follows: each outcome by itself, but those together that say the same and open the same."""
    seen = compared(outlook(problem, branch.position).chances)
    usual = {one: int(seen[problem.columns(one)].argmax()) for one in range(len(problem.sizes))}
    alike: dict[tuple[bytes, Opened], Branch] = {}
    for outcome, chance in enumerate(seen[problem.columns(check)].tolist()):
        if chance > POSSIBLE:
            opened = _opened(problem, usual, {**branch.position.made, check: outcome})
            says = compared(problem.likelihoods[:, problem.starts[check] + outcome]).tobytes()
            there = Branch(followed(problem, branch.position, check, outcome), 0.0)
            child = branch.after[outcome] = alike.setdefault((says, opened), there)
            child.share += branch.share * chance
    without = _opened(problem, usual, {**branch.position.made, check: NOT_DONE})
    if any(opened != without for _, opened in alike):
        there = Branch(followed(problem, branch.position, check, NOT_DONE), branch.share * CANNOT)
        alike[b"", without] = branch.after[NOT_DONE] = there
    return list(alike.values())


def _opened(problem: Problem, usual: Mapping[int, int], made: Mapping[int, int]) -> Opened:
    """What is open now, and what will be once everything else came out as usual.

    A look that could not be made may close nothing yet, as long as others still have to be made first.
    """
    return frozenset(problem.opens(made)), frozenset(problem.opens({**usual, **made}))


@dataclass(frozen=True)
class Totals:
    """What a route is expected to cost [min].

    Args:
        minutes: of its checks, change-over included.
        loss: of its ends.
    """

    minutes: float
    loss: float


def totals(problem: Problem, branch: Branch) -> Totals:
    """What a grown route is expected to cost; what could not be done is no part of it."""
    minutes = loss = 0.0
    waiting = [branch]
    while waiting:
        here = waiting.pop()
        if here.check is None:
            loss += here.share * end(problem, here.position).cost_min
            continue
        minutes += here.share * float(problem.minutes[here.position.standing, here.check])
        waiting += {id(child): child for outcome, child in here.after.items() if outcome != NOT_DONE}.values()
    return Totals(minutes / branch.share, loss / branch.share)
