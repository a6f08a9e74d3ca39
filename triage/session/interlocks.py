"""What must be confirmed before a vehicle state is entered, and what ends it.

Checks and remedies only declare the state that they need. Nothing here can be switched off by an author: the session
asks this module at every step. A line stands until one of the events that end its group happens; nothing else is asked
again. What those events are stands in `triage.knowledge.groups`.
"""

from collections.abc import Iterator
from functools import cache

from triage.knowledge.groups import LASTING_S, alike, arrives_so, ended_by
from triage.knowledge.models import Check, Ending, Knowledge, Outcome, VehicleState
from triage.knowledge.vehicle import leaves_pump_out
from triage.record import events as e
from triage.record.events import JUMP_MS, Event
from triage.session.commands import Command, Tick
from triage.session.state import Finding, State
from triage.units import parse_quantity

ANYWHERE = "anywhere"
"""The state of checks that only talk to people."""
SAID_MS = 1000
"""A wall clock that moved by more is recorded."""
IN_HAND = "in-hand-"
"""Prefix of the confirmation that what a check uses up is there."""
NO_PUMP = "pump-not-driven"
"""The line by which an engine that is warm may run without its belt: this belt does not drive the coolant pump."""
START_TRIED = "start-tried"
"""What is asked for only after the first look, and stands for nothing where a look forbids running."""


@cache
def period_ms(text: str) -> int:
    """A period such as "15 min" in milliseconds.

    Raises:
        QuantityRefused: the text is no period.
    """
    return round(parse_quantity(text, "time").value * 1000)


def needed(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None) -> tuple[str, ...]:
    """The lines that must stand for a vehicle state, and for the check to make there."""
    return tuple(line for line in target.confirmations if _is_needed(knowledge, state, line, check))


def _is_needed(knowledge: Knowledge, state: State, line: str, check: Check | None) -> bool:
    thing = knowledge.confirmations[line]
    if thing.group == "alone":
        return state.alone
    if line == START_TRIED and check is not None and check.untouched:
        return line in state.denied
    # Of a session that was begun under older rules nothing is due, although it may stand apart.
    apart = not state.opened.isdisjoint(thing.after)
    return not arrives_so(thing) or apart or line in state.due or line in state.denied


def lacking(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None = None) -> tuple[str, ...]:
    """The lines that are needed and do not stand."""
    return tuple(line for line in needed(knowledge, state, target, check) if line not in state.standing)


def stands(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None = None) -> bool:
    """Whether everything that a vehicle state needs stands."""
    return not lacking(knowledge, state, target, check)


def card(knowledge: Knowledge, state: State, target: VehicleState, check: Check | None = None) -> tuple[str, ...]:
    """The lines to be pressed for a vehicle state; one that says others again comes in their stead."""
    lines = lacking(knowledge, state, target, check)
    for thing in knowledge.confirmations.values():
        again = set(thing.instead_of)
        if again and again <= set(lines) and _said_again(state, again, word=thing.proof == "word"):
            first = min(lines.index(one) for one in again)
            lines = tuple(
                thing.id if at == first else line for at, line in enumerate(lines) if at == first or line not in again
            )
    return lines


def _said_again(state: State, lines: set[str], *, word: bool) -> bool:
    """Whether each was said before; between two starts, whether nothing but the stop has ended them."""
    return lines <= (state.stopped if word else state.ever) and lines.isdisjoint(state.denied)


def is_pressed(knowledge: Knowledge, state: State, line: str) -> bool:
    """Whether a line of a card stands, by itself or by those that it says again."""
    thing = knowledge.confirmations.get(line)
    return all(one in state.standing for one in (thing.instead_of if thing and thing.instead_of else (line,)))


def place_for(knowledge: Knowledge, state: State, check: Check) -> VehicleState:
    """Where a check is made: a vehicle that is isolated already, or may not be tried, serves what takes no voltage."""
    wanted = knowledge.states[check.state]
    return wanted if check.takes_voltage else place_like(knowledge, state, wanted, untouched=check.untouched)


def place_like(knowledge: Knowledge, state: State, wanted: VehicleState, *, untouched: bool = False) -> VehicleState:
    """The vehicle state itself, or the same with the battery isolated where that is so already, or has to be."""
    if wanted.near != "hands-in" or wanted.battery == "isolated":
        return wanted
    isolated = alike(knowledge, engine="stopped", belt=wanted.belt, battery="isolated", near="hands-in")
    asks = not untouched and START_TRIED in wanted.confirmations and START_TRIED not in state.standing
    # What was tried and nothing has ended since stands, whatever is found with hands in meanwhile.
    untried = asks and not may_be_tried(knowledge, state)
    return isolated if isolated and (state.condition.battery == "isolated" or untried) else wanted


def may_be_tried(knowledge: Knowledge, state: State) -> bool:
    """Whether the start may be tried: somebody has looked from outside, and no finding keeps the engine off."""
    looked = any(knowledge.checks[check].untouched and told(knowledge, one) for check, one in state.known.items())
    return (looked or START_TRIED in state.standing) and not closing_check(knowledge, state)


def told(knowledge: Knowledge, finding: Finding) -> bool:
    """Whether a finding says something."""
    return any(not outcome.says_nothing for outcome in _outcomes(knowledge, finding))


def is_set_up(knowledge: Knowledge, state: State, check: Check) -> bool:
    """Whether nothing is left to fit or mark for a check: it needs nothing, or the very same stands for another."""
    if check.set_up is None:
        return True
    ready = [knowledge.checks[one.check].set_up for one in state.prepared if one.running == check.state]
    return check.set_up in ready


def closing_finding(knowledge: Knowledge, state: State) -> Finding | None:
    """The finding that forbids a running engine, or None.

    Only a later finding that says something opens it again: not one that was taken back, unsure or could not be done,
    nor one that was told and nobody here has seen.
    What was put right is asked about before anything else, and closes nothing meanwhile.
    """
    latest: dict[str, Finding] = {}
    for finding in state.told:
        before = latest.get(finding.check)
        if told(knowledge, finding) and not (finding.told_by and before and _closes(knowledge, before)):
            latest[finding.check] = finding
    # What stands again because a later answer was taken back closes too.
    standing = (*latest.values(), *state.known.values())
    shut = [finding for finding in standing if finding.check not in state.put_right and _closes(knowledge, finding)]
    # Fuel closes more than an engine that must not run.
    return min(shut, key=lambda finding: not tells_of_fuel(knowledge, finding), default=None)


def _closes(knowledge: Knowledge, finding: Finding) -> bool:
    return any(outcome.closes_running for outcome in _outcomes(knowledge, finding))


def tells_of_fuel(knowledge: Knowledge, finding: Finding) -> bool:
    """Whether it is a finding of fuel: nothing is started, tried or disconnected before it is put right."""
    return any(outcome.fuel for outcome in _outcomes(knowledge, finding))


def _outcomes(knowledge: Knowledge, finding: Finding) -> Iterator[Outcome]:
    known = knowledge.checks[finding.check]
    return (outcome for one in finding.outcomes if (outcome := known.outcome(one)))


def closing_check(knowledge: Knowledge, state: State) -> str:
    """The check whose finding forbids a running engine, or "" where none does."""
    finding = closing_finding(knowledge, state)
    return finding.check if finding else ""


def is_cold(state: State, target: VehicleState, now_ms: int) -> bool:
    """Whether the engine has been stopped long enough for a run without belt, or keeps its coolant pump in it."""
    pumps = NO_PUMP in state.standing and leaves_pump_out(state.vehicle)
    if target.cold_after is None or state.engine_ran_ms is None or pumps:
        return True
    return now_ms - state.engine_ran_ms >= period_ms(target.cold_after.text)


def ended(knowledge: Knowledge, state: State, command: Command, *endings: Ending) -> tuple[e.ThingsEnded, ...]:
    """What has happened, as an event that names every line it ends; nothing where it ends none.

    What a vehicle arrives with in order is named too where it does not stand: from here on it is asked.
    """
    happened = set(endings)
    lines = [
        thing.id
        for thing in knowledge.confirmations.values()
        if ended_by(thing) & happened
        and (thing.id in state.standing or (thing.group and arrives_so(thing) and thing.id not in state.due))
    ]
    # Between two tries one line serves, but only where nothing else than the stop has come between.
    again = (
        bool(state.stopped)
        and happened != {"stop"}
        and any(
            ended_by(knowledge.confirmations[one]) & happened for one in state.stopped if one in knowledge.confirmations
        )
    )
    if not (lines or again):
        return ()
    return (e.ThingsEnded(**command.stamp, things=tuple(lines), because=endings[0]),)


def lapses(knowledge: Knowledge, state: State, command: Command) -> tuple[Event, ...]:
    """What time alone has brought: a wall clock that moved, a run past its limit, an hour with hands in."""
    events: list[Event] = []
    moved_ms = shift_ms(state, command)
    if abs(moved_ms) > SAID_MS:
        events.append(e.ClockShifted(**command.stamp_of("clock"), by_ms=moved_ms))
    stamp = command.stamp_of("clock")
    if _lost(state, command):
        if state.run == "running":
            events.append(e.RunEnded(**stamp, because="interrupted"))
        events.append(e.ThingsEnded(**stamp, things=tuple(state.standing), because="clock-jumped"))
        return tuple(events)
    if state.run == "running" and command.clock_ms >= state.run_until_ms:
        events.append(e.RunEnded(**stamp, because="time-limit"))
        events += _stopped(knowledge, state, command)
    elif _too_long(knowledge, state, command.clock_ms):
        events += _stopped(knowledge, state, command)
    events += _asked_again(knowledge, state, command)
    return tuple(events)


def _stopped(knowledge: Knowledge, state: State, command: Command) -> list[Event]:
    """What the stop of an engine ends, that has run for as long as it may."""
    stop = ended(knowledge, state, command, "stop")
    return [one.model_copy(update={"who": "clock", "because": "run-over"}) for one in stop]


def shift_ms(state: State, command: Command) -> int:
    """How far the wall clock moved against the forward clock since the last event; 0 where they cannot be compared."""
    if not state.events or command.boot != state.boot:
        return 0
    return (command.at_ms - state.last_ms) - (command.clock_ms - state.clock_ms)


def _lost(state: State, command: Command) -> bool:
    """Whether nobody knows how much time has passed."""
    if command.boot != state.boot or command.clock_ms < state.clock_ms or abs(shift_ms(state, command)) > JUMP_MS:
        return bool(state.standing) or state.run == "running"
    return isinstance(command, Tick) and command.lost and (bool(state.standing) or state.run == "running")


def running_until_ms(knowledge: Knowledge, state: State) -> int:
    """When an engine that runs with its belt has to be switched off."""
    place = knowledge.states.get(state.inside)
    limit_ms = LASTING_S["running"] * 1000
    if place and place.longest:
        limit_ms = min(limit_ms, period_ms(place.longest.text))
    return state.running_since_ms + round(limit_ms)


def _too_long(knowledge: Knowledge, state: State, now_ms: int) -> bool:
    if state.condition.engine != "running" or state.run or not state.standing:
        return False
    return now_ms >= running_until_ms(knowledge, state)


def _asked_again(knowledge: Knowledge, state: State, command: Command) -> list[Event]:
    """After an hour with hands in, or half an hour without a key, it is asked once; unanswered, everything ends."""
    if state.condition.engine != "stopped" or not state.standing or state.run in ("running", "overdue"):
        return []
    stamp, wait_s = command.stamp_of("clock"), LASTING_S["no-answer"]
    waited_s = (command.clock_ms - state.recap_ms) / 1000
    silent_s = (command.clock_ms - state.clock_ms) / 1000
    # Where nobody looked at the clock meanwhile it was asked of nobody, and nobody has answered.
    long = (("long-silent", silent_s), ("long-hands-in", waited_s))
    over = waited_s >= wait_s if state.recap else any(s >= LASTING_S[ending] + wait_s for ending, s in long)
    if over:
        return [e.ThingsEnded(**stamp, things=tuple(state.standing), because="no-answer")]
    for ending, passed_s in () if state.recap else long:
        if passed_s >= LASTING_S[ending]:
            asked = tuple(one.id for one in knowledge.confirmations.values() if one.group == "same-as-before")
            return [e.ThingsEnded(**stamp, things=asked, because=ending)]
    return []
