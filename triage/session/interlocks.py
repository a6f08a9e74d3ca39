"""What must be confirmed before a vehicle state is entered, and when confirmations stop holding.

Checks and remedies only declare the state that they need. Nothing here can be switched off by an author: the session
asks this module at every step.
"""

from functools import cache
from typing import Literal

from triage.knowledge.models import Check, Knowledge, VehicleState
from triage.record.events import JUMP_MS, Because, ClockShifted, Event, InterlockLapsed, RunEnded
from triage.session.commands import Command, Tick
from triage.session.state import Finding, State
from triage.units import parse_quantity

ANYWHERE = "anywhere"
"""The state of checks that only talk to people."""
SAID_MS = 1000
"""A wall clock that moved by more is recorded."""
IN_HAND = "in-hand-"
"""Prefix of the confirmation that what a check uses up is there."""


@cache
def period_ms(text: str) -> int:
    """A period such as "15 min" in milliseconds.

    Raises:
        QuantityRefused: the text is no period.
    """
    return round(parse_quantity(text, "time").value * 1000)


def missing(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None, now_ms: int) -> str:
    """The first confirmation still lacking for a state, or "" when all stand.

    Args:
        knowledge: holds the confirmations.
        state: the session.
        target: the vehicle state to be entered or kept.
        check: the check to make there, for what it uses up.
        now_ms: reading of the forward clock, for what goes along from the state before.
    """
    live = state.live if state.live and state.live.state == target.id else None
    confirmed = live.confirmed if live else carried(knowledge, state, target, now_ms)
    if not (live and live.entered):
        for confirmation_id in target.confirmations:
            if confirmation_id not in confirmed and is_asked(knowledge, confirmation_id, state):
                return confirmation_id
    if check and check.consumes and IN_HAND + check.id not in confirmed:
        return IN_HAND + check.id
    return ""


def carried(knowledge: Knowledge, state: State, target: VehicleState, now_ms: int) -> dict[str, int]:
    """What was confirmed for the state before and goes along into this one, each with when it was confirmed.

    Nothing goes along where the engine starts or stops, half way into a state, or once a repair was begun. What goes
    along keeps its age, and has half of what this state allows still before it: it would end this state too soon.
    """
    live = state.live
    if live is None or not live.entered or live.state == target.id or state.stage != "finding":
        return {}
    if "running" in (knowledge.states[live.state].engine, target.engine):
        return {}
    lives_ms = period_ms(target.lives.text)
    return {
        confirmation_id: confirmed_ms
        for confirmation_id, confirmed_ms in live.confirmed.items()
        if confirmation_id in target.confirmations
        and knowledge.confirmations[confirmation_id].carries
        and confirmation_id not in state.denied
        and confirmed_ms > state.refused_ms
        and 2 * (now_ms - confirmed_ms) < lives_ms
    }


def is_asked(knowledge: Knowledge, confirmation_id: str, state: State) -> bool:
    """Whether a confirmation counts here: always, once, or only for a vehicle that comes from a certain state.

    What was last said not to be so always does.
    """
    thing = knowledge.confirmations[confirmation_id]
    if confirmation_id in state.denied:
        return True
    if thing.once and confirmation_id in state.ever:
        return False
    after = thing.after
    # Half way into a state the belt may be off already, although the state was never entered.
    been = (state.condition, *(knowledge.states[begun] for begun in state.approached))
    return not after or any(getattr(place, what) == was for place in been for what, was in after.items())


def is_live(state: State, target: VehicleState) -> bool:
    """Whether the session is inside this vehicle state with every confirmation standing."""
    inside = state.live is not None and state.live.state == target.id and state.live.entered
    return inside and state.denied.isdisjoint(target.confirmations)


def must_be_switched_off(state: State) -> bool:
    """Whether the engine counts as running and nothing that allows it stands: that comes before every question."""
    return state.condition.engine == "running" and state.live is None


def refusal_ends(knowledge: Knowledge, state: State, confirmation_id: str) -> bool:
    """Whether a "no" ends what is live: the thing is listed or said there, things went along, or the engine runs."""
    live = state.live
    if live is None:
        return False
    listed = live.entered and confirmation_id in knowledge.states[live.state].confirmations
    said = confirmation_id in live.confirmed
    return listed or said or bool(live.carried) or state.condition.engine == "running"


def is_set_up(knowledge: Knowledge, state: State, check: Check) -> bool:
    """Whether nothing is left to fit or mark for a check: it needs nothing, or the very same stands for another."""
    if check.set_up is None:
        return True
    ready = state.prepared
    return ready is not None and ready.running == check.state and knowledge.checks[ready.check].set_up == check.set_up


def closing_finding(knowledge: Knowledge, state: State) -> Finding | None:
    """The finding that forbids a running engine, or None.

    Only a later finding that says something opens it again: not one that was taken back, unsure or could not be done.
    What was put right is asked about before anything else, and closes nothing meanwhile.
    """
    latest: dict[str, Finding] = {}
    for finding in state.told:
        outcomes = [knowledge.checks[finding.check].outcome(outcome) for outcome in finding.outcomes]
        if any(outcome and not outcome.says_nothing for outcome in outcomes):
            latest[finding.check] = finding
    shut = (finding for finding in latest.values() if finding.check not in state.put_right)
    return next((finding for finding in shut if _closes(knowledge, finding)), None)


def _closes(knowledge: Knowledge, finding: Finding) -> bool:
    outcomes = (knowledge.checks[finding.check].outcome(outcome) for outcome in finding.outcomes)
    return any(outcome and outcome.closes_running for outcome in outcomes)


def closing_check(knowledge: Knowledge, state: State) -> str:
    """The check whose finding forbids a running engine, or "" where none does."""
    finding = closing_finding(knowledge, state)
    return finding.check if finding else ""


def is_cold(state: State, target: VehicleState, now_ms: int) -> bool:
    """Whether the engine has been stopped long enough for a run without belt."""
    if target.cold_after is None or state.engine_ran_ms is None:
        return True
    return now_ms - state.engine_ran_ms >= period_ms(target.cold_after.text)


def lapses(knowledge: Knowledge, state: State, command: Command) -> tuple[Event, ...]:
    """What time alone has brought: a wall clock that moved, aged confirmations, a run past its limit."""
    events: list[Event] = []
    moved_ms = shift_ms(state, command)
    if abs(moved_ms) > SAID_MS:
        events.append(ClockShifted(**command.stamp_of("clock"), by_ms=moved_ms))
    because = _lapsing(knowledge, state, command)
    if because and state.run == "running":
        ended: Literal["time-limit", "interrupted"] = "time-limit" if because == "run-over" else "interrupted"
        events.append(RunEnded(**command.stamp_of("clock"), because=ended))
    if because and state.live:
        events.append(InterlockLapsed(**command.stamp_of("clock"), state=state.live.state, because=because))
    return tuple(events)


def shift_ms(state: State, command: Command) -> int:
    """How far the wall clock moved against the forward clock since the last event; 0 where they cannot be compared."""
    if not state.events or command.boot != state.boot:
        return 0
    return (command.at_ms - state.last_ms) - (command.clock_ms - state.clock_ms)


def _lapsing(knowledge: Knowledge, state: State, command: Command) -> Because | None:
    now_ms = command.clock_ms
    if command.boot != state.boot or now_ms < state.clock_ms or abs(shift_ms(state, command)) > JUMP_MS:
        return "clock-jumped"
    if isinstance(command, Tick) and command.lost:
        return "clock-jumped"
    if state.run == "running" and now_ms >= state.run_until_ms:
        return "run-over"
    if state.live:
        lives_ms = period_ms(knowledge.states[state.live.state].lives.text)
        if any(now_ms - confirmed_ms >= lives_ms for confirmed_ms in state.live.confirmed.values()):
            return "aged"
    return None
