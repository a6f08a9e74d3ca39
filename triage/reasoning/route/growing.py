"""Growing a planned route as a tree: the next check after every outcome, down to the ends.

Branches grow in the order of how many vehicles come to them, so that what is left out at the end is what comes seldom.
"""

import heapq
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from triage.knowledge.precautions import NOT_DONE
from triage.reasoning.advice.worth import POSSIBLE, NextChecks
from triage.reasoning.inference.answers import PossibleAnswer, leading_answers, pieces_of
from triage.reasoning.inference.evidence import Alternative
from triage.reasoning.inference.network import Numbers
from triage.reasoning.inference.rounding import compared, even
from triage.reasoning.route.routing import RoutePlace, RoutePlanner

MOST_CHECKS = 150
"""Checks in a grown route; more than this nobody reads. Source: from-memory."""
CANNOT = 0.02
"""How often a check cannot be done, for the order of growing alone. Source: from-memory."""

Opened = tuple[tuple[str, ...], tuple[str, ...]]
"""The checks that may be made now, and later."""


@dataclass
class GrownNode:
    """One place of a grown route: a check with what follows each outcome, or an end.

    Args:
        place: where the route stands.
        share: of all vehicles, those that come here [1].
        check: the check to make; None at an end.
        outlook: the figures that say so; None where it was not grown.
        after: what follows each outcome that can be, `NOT_DONE` where that is planned by itself.
    """

    place: RoutePlace
    share: float
    check: str | None = None
    outlook: NextChecks | None = None
    after: dict[str, "GrownNode"] = field(default_factory=dict)


def grow(planner: RoutePlanner, progress: Callable[[int, float], None], most_checks: int = MOST_CHECKS) -> GrownNode:
    """Grow a route.

    Args:
        planner: plans it.
        progress: told after each check how many there are and which share of vehicles has come to an end.
        most_checks: how many checks it may have.
    """
    first = GrownNode(planner.start, 1.0)
    waiting = [(-1.0, 0, first)]
    checks, ended, placed = 0, 0.0, 0
    while waiting and checks < most_checks:
        _, _, branch = heapq.heappop(waiting)
        branch.check, branch.outlook = planner.next(branch.place)
        if branch.check is None:
            ended += branch.share
            continue
        checks += 1
        for child in _children(planner, branch, branch.check):
            placed += 1
            heapq.heappush(waiting, (-even(child.share), placed, child))
        progress(checks, ended)
    return first


def _children(planner: RoutePlanner, branch: GrownNode, check: str) -> list[GrownNode]:
    """Plan what follows: each outcome by itself, but those together that say the same and open the same."""
    place, answers = branch.place, leading_answers(planner.knowledge, planner.pulley, check)
    usual = {one: planner.knowledge.checks[one].normal(planner.pulley) for one in planner.precautions.guards}
    alike: dict[object, GrownNode] = {}
    for answer, chance in zip(answers, _chances(planner, place, answers).tolist(), strict=True):
        if chance > POSSIBLE:
            ((_, outcome),) = answer.outcomes
            opened = _opened(planner, usual, {**place.made, check: outcome})
            there = GrownNode(planner.after(place, check, outcome), 0.0)
            says = (tuple(there.place.known.items()), there.place.spoken, opened)
            child = branch.after[outcome] = alike.setdefault(says, there)
            child.share += branch.share * chance
    without = _opened(planner, usual, {**place.made, check: NOT_DONE})
    if any(_opened(planner, usual, child.place.made) != without for child in alike.values()):
        there = GrownNode(planner.after(place, check, NOT_DONE), branch.share * CANNOT)
        alike[NOT_DONE] = branch.after[NOT_DONE] = there
    return list(alike.values())


def _chances(planner: RoutePlanner, place: RoutePlace, answers: tuple[PossibleAnswer, ...]) -> Numbers:
    """How often each outcome comes; those of a check that shows no sign are taken to come alike."""
    pieces, terms = pieces_of(answers)
    known = (Alternative(1.0, dict(place.known)),)
    sums = planner.weigher.stakes.summed(known, pieces).chance
    chances = (terms * sums).sum(axis=1)
    return compared(chances / chances.sum())


def _opened(planner: RoutePlanner, usual: Mapping[str, str], made: Mapping[str, str]) -> Opened:
    """What is open now, and what will be once everything else came out as usual.

    A look that could not be made may close nothing yet, as long as others still have to be made first.
    """
    return tuple(planner.open_after(made)), tuple(planner.open_after({**usual, **made}))
