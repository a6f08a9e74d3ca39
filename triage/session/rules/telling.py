"""What was found before this session, told by somebody: it is known, and nobody here has seen it.

It opens no interlock and lets no engine run: a look that was told of is made before the next start all the same.
"""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.knowledge.walk import fits
from triage.record import events as e
from triage.session import commands as c
from triage.session.rounds import complaint_now
from triage.session.rules.asking import words
from triage.session.rules.finding import told
from triage.session.rules.routing import LEAVING
from triage.session.state import State

AT = ("gate", "fact", *LEAVING)
"""Steps at which something may be told: never beside a running engine."""


def tell_finding(knowledge: Knowledge, state: State, command: c.TellFinding) -> tuple[e.Event, ...]:
    """Take what somebody found before, under the name of whoever says so."""
    expect_open(state)
    if command.check not in may_be_told(knowledge, state):
        raise CommandRefused("That cannot be told.", "Make the check when it is asked for.")
    by = words(command.by, "Who found it")
    return (told(knowledge.checks[command.check], state, command, by),)


def expect_open(state: State) -> None:
    """Refuse what is told beside a running engine, or once the search is over.

    Raises:
        CommandRefused: nothing can be told at this step.
    """
    if state.stage != "finding" or state.step.kind not in AT or state.condition.engine == "running":
        raise CommandRefused("Nothing can be told here.", "Go on with the step on screen.")


def may_be_told(knowledge: Knowledge, state: State) -> tuple[str, ...]:
    """Every check of this vehicle of which nothing is known and nothing waits to be looked at again."""
    waiting = {*state.known, *state.put_right, *state.look_again, complaint_now(knowledge, state)}
    return tuple(one for one in knowledge.checks if one not in waiting and fits(knowledge, one, state.vehicle))
