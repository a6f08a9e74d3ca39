"""The session's own route, off its tree: chosen by the reasoning, recorded, and held to what a tree is held to."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.choosing import choice_of
from triage.session.state import State

LEAVING = ("check", "round", "confirm", "held", "set-up", "blocked", "run-ready", "conclusion")
"""Steps from which a route may turn off: never while the engine is on a timed run, or its result is waited for."""


def take_own_route(knowledge: Knowledge, state: State, command: c.TakeOwnRoute) -> tuple[e.Event, ...]:
    """Go on with a check that the tree does not ask for now; only one that nothing forbids."""
    _expect_finding(state)
    if command.check not in choice_of(knowledge, state).now:
        raise CommandRefused("That check may not be made now.", "Go on with the step on screen.")
    return (command.as_event(e.OwnRouteTaken),)


def end_own_route(knowledge: Knowledge, state: State, command: c.EndOwnRoute) -> tuple[e.Event, ...]:
    """Stand by what the findings of the route carry."""
    _expect_finding(state)
    if any(cause not in knowledge.causes for cause in command.causes):
        raise CommandRefused("The route names a cause that is not known.", "Go on with the step on screen.")
    close_calls = [check for check, known in state.findings.items() if known.verdict and not known.verdict.settled]
    ended = e.OwnRouteEnded(
        **command.stamp,
        causes=command.causes,
        path=tuple(state.findings),
        close_calls=tuple(close_calls),
    )
    return (ended,)


def _expect_finding(state: State) -> None:
    if state.stage != "finding" or state.step.kind not in LEAVING:
        raise CommandRefused("The search cannot turn off here.", "Go on with the step on screen.")
