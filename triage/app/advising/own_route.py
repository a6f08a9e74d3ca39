"""Asks the reasoning for a route of the session's own, and hands it over as rounded figures.

It is asked where the tree ends undecided because a check could not be done. The session takes what is chosen like any
other check, with its interlocks and in the order that the tree keeps for safety.
"""

from triage.app.advising.worthwhile import looked_out
from triage.knowledge.models import Knowledge
from triage.record.counsel import REASONING
from triage.session.commands import EndOwnRoute, TakeOwnRoute
from triage.session.own_route import own_step
from triage.session.rules.routing import LEAVING
from triage.session.state import State

Route = TakeOwnRoute | EndOwnRoute


class Planner:
    """Plans own routes from the complaint on, for many sessions that begin alike; each place is planned once."""

    def __init__(self) -> None:
        """Begin with nothing planned."""
        self._planned: dict[tuple[object, ...], Route | None] = {}

    def next(self, knowledge: Knowledge, state: State, at_ms: int) -> Route | None:
        """How a session goes on that follows its own route alone; None where it has something to answer first."""
        if own_step(state) or state.step.kind not in LEAVING or (state.concluded and state.concluded.own):
            return None
        told = tuple((one.check, one.outcomes, one.verdict) for one in state.findings.values())
        key = (state.symptom, tuple(state.facts.items()), told, state.condition, state.runs)
        if key not in self._planned:
            self._planned[key] = planned(knowledge, state, at_ms)
        route = self._planned[key]
        return route.model_copy(update={"at_ms": at_ms, "clock_ms": at_ms}) if route else None


def own_route(knowledge: Knowledge, state: State, at_ms: int) -> Route | None:
    """How the session goes on where its tree does not; None where the tree's word stands."""
    left = state.concluded is not None and state.concluded.end == "undecided" and not state.concluded.own
    lacking = any(not state.findings[check].outcomes for check in state.findings)
    if not left or not lacking or state.rounds > 1:
        return None
    route = planned(knowledge, state, at_ms)
    ended_with_nothing = isinstance(route, EndOwnRoute) and not route.causes
    return None if ended_with_nothing else route


def planned(knowledge: Knowledge, state: State, at_ms: int) -> Route | None:
    """The next check of an own route from where the session stands, or its end; None where findings contradict.

    By the same figures as the worth of a check on screen: where that says that one pays, the route goes on.
    """
    from triage.reasoning.inference.network import network_of

    outlook, check, _ = looked_out(knowledge, state)
    if outlook is None:
        return None
    if check is None:
        causes = network_of(knowledge, state.pulley).causes
        return EndOwnRoute(at_ms=at_ms, who=REASONING, causes=tuple(causes[at] for at in outlook.end))
    best = outlook.best
    (alone,) = (one for one in outlook.checks if one.checks[0] == check)
    saves = best.saves_min if best and best.checks[0] == check else alone.saves_min
    return TakeOwnRoute(at_ms=at_ms, who=REASONING, check=check, minutes=alone.minutes, saves_min=saves)
