"""Other ways to search for the same complaint, as routes that an authored tree can be weighed against.

`fixed` has one order of checks for every vehicle, that of the authored tree's file, and stops where a cause is more
likely than not. `greedy` makes the check that tells most for its minutes. `grown` looks ahead for the checks that most
vehicles come to and goes on as `greedy` does. Both stop where a plain chain of checks costs more than it saves, but
with nothing named only where no check is left that could name something. All of them end at what costs least, behind
the authored tree's precautions.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import chain as one_after_another
from itertools import repeat
from typing import Final

from triage.knowledge.models import Knowledge, Node
from triage.reasoning.bounding import Bound, lower_bound
from triage.reasoning.growing import MOST_CHECKS, Policy, best_check, grow
from triage.reasoning.grown_tree import left_out, tree_of
from triage.reasoning.looking_ahead import most_telling, next_in_order, value
from triage.reasoning.rounding import recorded
from triage.reasoning.searching import Search, Vehicle, search_of
from triage.reasoning.sequencing import Position, Problem, end, followed, last_resort
from triage.reasoning.ways import Route, route_of
from triage.reasoning.weights import Weights

NAMES: Final = ("fixed", "greedy", "grown")
MOST_FOLLOWED = 600
"""Checks in a route that nobody has to read."""
CARRIED = 0.5
"""Probability from which a fixed order of checks stops. Source: from-memory."""

Progress = Callable[[int, float], None]
"""Told after each check how many there are and which share of vehicles has come to an end."""


def rival(knowledge: Knowledge, vehicle: Vehicle, name: str, weights: Weights, progress: Progress) -> Route:
    """The route of a rival.

    Args:
        knowledge: causes, signs, checks and the authored tree.
        vehicle: the complaint and the specified pulley type.
        name: one of `NAMES`.
        weights: what checks and change-over take, and what wrong ends cost.
        progress: told how far it has grown.
    """
    if name == "fixed":
        search = search_of(knowledge, vehicle, weights)
        return _by_policy(search, lambda problem, here: _next_on_the_list(search, problem, here))
    # A question with many answers makes a grown route too large before it tells much.
    shorter = replace(vehicle, left_out=left_out(knowledge, vehicle.symptom))
    search = search_of(knowledge, shorter, weights)
    policy = _looking_ahead_first() if name == "grown" else greedy
    grown = grow(search.problem, search.root, progress, policy, MOST_FOLLOWED)
    return route_of(knowledge, tree_of(knowledge, vehicle.symptom, vehicle.pulley, search, grown), vehicle.pulley)


def bound(knowledge: Knowledge, symptom: str, pulley: str) -> Bound:
    """What no search is expected to undercut."""
    search = search_of(knowledge, Vehicle(symptom, pulley))
    return lower_bound(search.problem, search.root, search.turns)


def greedy(problem: Problem, position: Position) -> int | None:
    """The check that tells most for its minutes, as long as a plain chain of checks pays, then as every search ends."""
    pays = value(problem, position, 0) < end(problem, position).cost_min
    return most_telling(problem, position) if pays else last_resort(problem, position)


def _looking_ahead_first() -> Policy:
    """Branches grow in the order of how many vehicles come to them, so the first checks are the most frequent ones."""
    policies: Iterator[Policy] = one_after_another(repeat(best_check, MOST_CHECKS), repeat(greedy))
    return lambda problem, position: next(policies)(problem, position)


def _next_on_the_list(search: Search, problem: Problem, position: Position) -> int | None:
    named = search.ends[end(problem, position).index][:1]
    likely = (recorded((position.weights * search.faults[:, search.causes.index(cause)]).sum()) for cause in named)
    return None if any(share >= CARRIED for share in likely) else next_in_order(problem, position)


def _by_policy(search: Search, policy: Policy) -> Route:
    """A route that is worked out only where vehicles come."""
    at = {check: place for place, check in enumerate(search.checks)}
    positions: dict[tuple[tuple[str, str], ...], Position] = {(): search.root}

    def position(told: tuple[tuple[str, str], ...]) -> Position:
        if told not in positions:
            *before, (check, outcome) = told
            outcomes = search.outcomes[at[check]]
            here = position(tuple(before))
            positions[told] = followed(search.problem, here, at[check], outcomes.index(outcome))
        return positions[told]

    def route(findings: Mapping[str, tuple[str, ...]]) -> Node:
        here = position(tuple((check, outcome) for check, (outcome,) in findings.items()))
        check = policy(search.problem, here)
        if check is not None:
            return Node(check=search.checks[check])
        named = search.ends[end(search.problem, here).index][:1]
        return Node(conclude=named) if named else Node(end="undecided")

    return route
