"""Asks the reasoning for a route of the session's own, and hands it over as rounded figures.

It is asked where the tree ends undecided because a check could not be done. The session takes what is chosen like any
other check, with its interlocks and in the order that the tree keeps for safety.
"""

from dataclasses import replace

from triage.app.known import found_in, shifts_in
from triage.app.worthwhile import MINUTE_PLACES
from triage.knowledge.grounds import Grounds, grounds
from triage.knowledge.models import Knowledge
from triage.session.choosing import choice_of
from triage.session.commands import EndOwnRoute, TakeOwnRoute
from triage.session.own_route import own_step
from triage.session.rules.routing import LEAVING
from triage.session.state import State

WHO = "reasoning"
"""From whom a route is in a trace."""
Route = TakeOwnRoute | EndOwnRoute


class Planner:
    """Plans own routes from the complaint on, for many sessions that begin alike; each place is planned once."""

    def __init__(self) -> None:
        """Begin with nothing planned."""
        self._planned: dict[tuple[object, ...], Route | None] = {}
        self._reasons: dict[str, Grounds] = {}

    def next(self, knowledge: Knowledge, state: State, at_ms: int) -> Route | None:
        """How a session goes on that follows its own route alone; None where it has something to answer first."""
        if own_step(state) or state.step.kind not in LEAVING or (state.concluded and state.concluded.own):
            return None
        told = tuple((one.check, one.outcomes, one.verdict) for one in state.findings.values())
        key = (state.symptom, tuple(state.facts.items()), told, state.condition, state.runs)
        if key not in self._planned:
            if state.symptom not in self._reasons:
                self._reasons[state.symptom] = grounds(knowledge, knowledge.trees[state.symptom])
            self._planned[key] = planned(knowledge, state, at_ms, self._reasons[state.symptom])
        route = self._planned[key]
        return replace(route, at_ms=at_ms) if route else None


def own_route(knowledge: Knowledge, state: State, at_ms: int) -> Route | None:
    """How the session goes on where its tree does not; None where the tree's word stands."""
    left = state.concluded is not None and state.concluded.end == "undecided" and not state.concluded.own
    lacking = any(not state.findings[check].outcomes for check in state.findings)
    if not left or not lacking or state.rounds > 1:
        return None
    route = planned(knowledge, state, at_ms)
    ended_with_nothing = isinstance(route, EndOwnRoute) and not route.causes
    return None if ended_with_nothing else route


def planned(knowledge: Knowledge, state: State, at_ms: int, reasons: Grounds | None = None) -> Route | None:
    """The next check of an own route from where the session stands, or its end; None where findings contradict."""
    from triage.reasoning.evidence import together
    from triage.reasoning.growing import best_choice
    from triage.reasoning.ranking import pieces_of
    from triage.reasoning.rounding import recorded
    from triage.reasoning.searching import Vehicle, search_of
    from triage.reasoning.sequencing import end, last_resort

    choice = choice_of(knowledge, state)
    open_ended = {*choice.now, *choice.later, *state.known}
    found = tuple(found_in(state))
    if not together(pieces_of(knowledge, state.symptom, found, state.pulley).values()):
        return None
    vehicle = Vehicle(
        symptom=state.symptom,
        pulley=state.pulley,
        findings=found,
        standing=state.condition,
        left_out=frozenset(check for check in knowledge.checks if check not in open_ended),
        shifts=shifts_in(knowledge, state),
    )
    search = search_of(knowledge, vehicle, state.weights, reasons)
    stop = end(search.problem, search.root)
    best = best_choice(search.problem, search.root)
    check = best.check if best else last_resort(search.problem, search.root)
    if check is None or search.checks[check] not in choice.now:
        return EndOwnRoute(at_ms=at_ms, who=WHO, causes=search.ends[stop.index][:1])
    return TakeOwnRoute(
        at_ms=at_ms,
        who=WHO,
        check=search.checks[check],
        minutes=recorded(search.problem.minutes[0, check], MINUTE_PLACES),
        saves_min=recorded(stop.cost_min - best.cost_min, MINUTE_PLACES) if best else 0.0,
    )
