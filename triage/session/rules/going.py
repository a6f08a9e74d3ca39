"""How a round goes on: its lines left open or closed together, a check asked for, and what ends a run at once."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session import interlocks
from triage.session.choosing import may_be_asked
from triage.session.rounds import closing
from triage.session.rules.asking import expect_step
from triage.session.rules.entering import looks_ended
from triage.session.rules.routing import LEAVING
from triage.session.state import State


def leave_round(_knowledge: Knowledge, state: State, command: c.LeaveRound) -> tuple[e.Event, ...]:
    """Leave every open line open."""
    expect_step(state, "round")
    return (e.RoundLeft(**command.stamp, round=state.step.round, checks=state.step.open),)


def close_round(knowledge: Knowledge, state: State, command: c.CloseRound) -> tuple[e.Event, ...]:
    """Record the normal outcome of the lines that were listed; those of its kind that were struck out stay open."""
    expect_step(state, "round")
    may = closing(knowledge, state.step.open)
    told = tuple(dict.fromkeys(command.checks))
    if not told:
        raise CommandRefused("Nothing would be recorded.", "Answer the lines that are open, or leave the round.")
    if not set(told) <= set(may):
        raise CommandRefused(
            "Not every one of these can be closed so.",
            "A reading, a test and a look that lets the engine run are answered by their own line.",
        )
    struck = tuple(one for one in may if one not in told)
    found = (
        e.CheckAnswered(
            **command.stamp,
            check=one,
            outcomes=(knowledge.checks[one].normal(state.pulley),),
            proving=False,
            closed_with_round=True,
        )
        for one in told
    )
    left = (e.RoundLeft(**command.stamp, round=state.step.round, checks=struck),) if struck else ()
    return (*found, *left)


def ask_for(knowledge: Knowledge, state: State, command: c.AskFor) -> tuple[e.Event, ...]:
    """Take up a check that the tree does not ask for now, where state and make-safe allow it."""
    if state.stage != "finding" or state.step.kind not in LEAVING:
        raise CommandRefused("No check can be asked for here.", "Go on with the step on screen.")
    if command.check and command.check not in may_be_asked(knowledge, state):
        raise CommandRefused("That check may not be made now.", "Choose one of the list.")
    if command.check == state.asked:
        raise CommandRefused("That is asked already.", "Go on with the step on screen.")
    return (e.CheckAskedFor(**command.stamp, check=command.check),)


def raise_alarm(knowledge: Knowledge, state: State, command: c.RaiseAlarm) -> tuple[e.Event, ...]:
    """End a run at once; before the next start every look that lets the engine run is made again."""
    if state.condition.engine != "running":
        raise CommandRefused("The engine is not running.", "Answer the step on screen.")
    over = (e.RunEnded(**command.stamp, because="interrupted"),) if state.run == "running" else ()
    stop = interlocks.ended(knowledge, state, command, "stop")
    return (*over, e.AlarmRaised(**command.stamp), *stop, *looks_ended(knowledge, state, command))
