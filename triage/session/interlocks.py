"""What must be confirmed before a vehicle state is entered, and when confirmations stop holding.

Checks and remedies only declare the state that they need. Nothing here can be switched off by an author: the session
asks this module at every step.
"""

from functools import cache

from triage.knowledge.models import Check, Confirmation, Knowledge, VehicleState
from triage.session.events import Because, Event, InterlockLapsed, RunEnded
from triage.session.state import State
from triage.units import parse_quantity

ANYWHERE = "anywhere"
"""The state of checks that only talk to people."""
IN_HAND = "in-hand-"
"""Prefix of the confirmation that what a check uses up is there."""


@cache
def period_ms(text: str) -> int:
    """A period such as "15 min" in milliseconds.

    Raises:
        QuantityRefused: the text is no period.
    """
    return round(parse_quantity(text, "time").value * 1000)


def missing(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None) -> str:
    """The first confirmation still lacking for a state, or "" when all stand.

    Args:
        knowledge: holds the confirmations.
        state: the session.
        target: the vehicle state to be entered or kept.
        check: the check to make there, for what it uses up.
    """
    live = state.live if state.live and state.live.state == target.id else None
    confirmed = live.confirmed if live else {}
    if not (live and live.entered):
        for confirmation_id in target.confirmations:
            if confirmation_id not in confirmed and _asked(knowledge.confirmations[confirmation_id], state):
                return confirmation_id
    if check and check.consumes and IN_HAND + check.id not in confirmed:
        return IN_HAND + check.id
    return ""


def _asked(confirmation: Confirmation, state: State) -> bool:
    condition = {
        "engine": state.condition.engine,
        "belt": state.condition.belt,
        "battery": state.condition.battery,
    }
    return not confirmation.after or any(condition[what] == was for what, was in confirmation.after.items())


def is_live(state: State, target: VehicleState) -> bool:
    """Whether the session is inside this vehicle state with every confirmation standing."""
    return state.live is not None and state.live.state == target.id and state.live.entered


def closing_check(knowledge: Knowledge, state: State) -> str:
    """The check whose finding forbids a running engine, or "" where none does."""
    for check_id, finding in state.known.items():
        check = knowledge.checks[check_id]
        outcomes = (check.outcome(outcome) for outcome in finding.outcomes)
        if any(outcome and outcome.closes_running for outcome in outcomes):
            return check_id
    return ""


def is_cold(state: State, target: VehicleState, at_ms: int) -> bool:
    """Whether the engine has been stopped long enough for a run without belt."""
    if target.cold_after is None or state.engine_ran_ms is None:
        return True
    return at_ms - state.engine_ran_ms >= period_ms(target.cold_after.text)


def lapses(knowledge: Knowledge, state: State, at_ms: int) -> tuple[Event, ...]:
    """What time alone has ended: aged confirmations, a clock that ran backwards, a run past its limit."""
    events: list[Event] = []
    back = at_ms < state.last_ms
    if state.run == "running" and (back or at_ms >= state.run_until_ms):
        events.append(RunEnded(at_ms=at_ms, who="clock", because="time-limit"))
    if state.live is None:
        return tuple(events)
    lives_ms = period_ms(knowledge.states[state.live.state].lives.text)
    aged = any(at_ms - confirmed_ms >= lives_ms for confirmed_ms in state.live.confirmed.values())
    if events:
        events.append(InterlockLapsed(at_ms=at_ms, who="clock", state=state.live.state, because="run-over"))
    elif back or aged:
        because: Because = "clock-jumped" if back else "aged"
        events.append(InterlockLapsed(at_ms=at_ms, who="clock", state=state.live.state, because=because))
    return tuple(events)
