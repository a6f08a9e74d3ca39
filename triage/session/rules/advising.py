"""What the reasoning said of a session, recorded so that a replay reads it and computes nothing."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.session import commands as c
from triage.session import events as e
from triage.session.state import State


def advise(knowledge: Knowledge, state: State, command: c.Advise) -> tuple[e.Event, ...]:
    """Record which causes the findings behind a conclusion make likely, and why."""
    if state.concluded is None:
        raise CommandRefused("There is no conclusion yet.", "Go on with the step on screen.")
    if any(one.cause not in knowledge.causes for one in command.likely):
        raise CommandRefused("The advice names a cause that is not known.", "Go on with the step on screen.")
    return (e.AdviceGiven(at_ms=command.at_ms, who=command.who, likely=command.likely),)
