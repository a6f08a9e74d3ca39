"""The interlock on screen: each thing confirmed or refused by itself, and runs that have a time limit."""

from typing import Literal

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge, VehicleState
from triage.record import events as e
from triage.session import commands as c
from triage.session import interlocks
from triage.session.evolving import fold
from triage.session.rules.asking import expect_step, words
from triage.session.state import State


def confirm(knowledge: Knowledge, state: State, command: c.Confirm) -> tuple[e.Event, ...]:
    """Take one confirmation; the last one opens the vehicle state."""
    expect_step(state, "confirm")
    step = state.step
    if command.confirmation != step.confirmation:
        raise CommandRefused("Each thing is confirmed by itself, in order.", "Confirm the one on screen.")
    thing = knowledge.confirmations.get(step.confirmation)
    name = _somebody_else(command) if thing and thing.names else ""
    confirmed = e.ThingConfirmed(**command.stamp, state=step.state, confirmation=step.confirmation, name=name)
    target = knowledge.states[step.state]
    happened = (*_carried(knowledge, state, target, command), confirmed)
    after = fold(happened, state)
    # What the check uses up is asked inside the state: leaving the check out then leaves nothing half entered.
    if interlocks.missing(knowledge, after, target, None, command.clock_ms) or interlocks.is_live(after, target):
        return happened
    return (*happened, _entered(target, command))


def _carried(knowledge: Knowledge, state: State, target: VehicleState, command: c.Command) -> tuple[e.Event, ...]:
    since = interlocks.carried(knowledge, state, target, command.clock_ms)
    return (e.ThingsCarried(**command.stamp, state=target.id, since=since),) if since else ()


def _somebody_else(command: c.Confirm) -> str:
    name = words(command.name, "The name")
    if name.casefold().split() == command.who.casefold().split():
        raise CommandRefused(f"{name} watches the drive.", 'Name somebody else, or say "no".')
    return name


def _entered(target: VehicleState, command: c.Command) -> e.StateEntered:
    # The engine of a timed run stays stopped until the run is started.
    engine = "stopped" if target.run_limit else target.engine
    return e.StateEntered(
        **command.stamp,
        state=target.id,
        engine=engine,
        belt=target.belt,
        battery=target.battery,
    )


def refuse(knowledge: Knowledge, state: State, command: c.RefuseConfirmation) -> tuple[e.Event, ...]:
    """Keep the state shut: one thing is not so, here and in every state that lists it, the live one included."""
    expect_step(state, "confirm")
    if command.confirmation != state.step.confirmation:
        raise CommandRefused("Each thing is answered by itself, in order.", "Answer the one on screen.")
    refused = e.ThingRefused(
        **command.stamp,
        state=state.step.state,
        confirmation=command.confirmation,
        reason=words(command.reason, "The reason"),
    )
    if state.live is None or not interlocks.refusal_ends(knowledge, state, command.confirmation):
        return (refused,)
    lapsed = e.InterlockLapsed(**command.stamp, state=state.live.state, because="refused")
    return (lapsed, refused)


def try_again(_knowledge: Knowledge, state: State, command: c.TryAgain) -> tuple[e.Event, ...]:
    """Ask the refused thing again."""
    expect_step(state, "held")
    return (command.as_event(e.HeldTriedAgain),)


def finish_set_up(knowledge: Knowledge, state: State, command: c.FinishSetUp) -> tuple[e.Event, ...]:
    """Take the word that a check is set up; what the running engine needs is confirmed after it."""
    expect_step(state, "set-up")
    if command.check != state.step.check:
        raise CommandRefused("That is not the check on screen.", "Set up the check on screen.")
    running = knowledge.checks[command.check].state
    return (command.as_event(e.SetUpFinished, state=state.step.state, running=running),)


def start_run(knowledge: Knowledge, state: State, command: c.StartRun) -> tuple[e.Event, ...]:
    """Start a run and its clock."""
    expect_step(state, "run-ready")
    target = knowledge.states[state.step.state]
    if target.run_limit is None:
        raise CommandRefused("This state has no timed run.", "Answer the step on screen.")
    until_ms = command.clock_ms + interlocks.period_ms(target.run_limit.text)
    return (e.RunStarted(**command.stamp, state=target.id, until_ms=until_ms),)


def end_run(_knowledge: Knowledge, state: State, command: c.EndRun) -> tuple[e.Event, ...]:
    """Take the word that the engine is off and all is still."""
    timed = state.run in ("running", "overdue")
    if not timed and state.condition.engine != "running":
        raise CommandRefused("No run is under way.", "Answer the step on screen.")
    ended: e.Event = e.RunEnded(**command.stamp, because="switched-off") if timed else e.EngineOff(**command.stamp)
    if state.live is None:
        return (ended,)
    because: Literal["run-over", "switched-off"] = "run-over" if timed else "switched-off"
    return (ended, e.InterlockLapsed(**command.stamp, state=state.live.state, because=because))
