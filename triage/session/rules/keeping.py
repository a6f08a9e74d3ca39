"""What may be done at any moment: notes, maker's figures, leaving and coming back, handing over, closing, ticking."""

from itertools import pairwise
from typing import Literal

from triage.errors import CommandRefused
from triage.knowledge.models import Check, Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session import interlocks
from triage.session.evolving import evolve
from triage.session.judging import limits_of
from triage.session.proving import Proof, disproving, proof_of
from triage.session.rules.asking import expect_step, words
from triage.session.rules.entering import looks_ended
from triage.session.rules.finding import corrected
from triage.session.rules.opening import RULES
from triage.session.state import State
from triage.session.stepping import stands_in, to_take_off


def note(_knowledge: Knowledge, _state: State, command: c.Note) -> tuple[e.Event, ...]:
    """Write a remark down."""
    return (command.as_event(e.NoteAdded, text=words(command.text, "The note")),)


def enter_maker_figure(knowledge: Knowledge, state: State, command: c.EnterMakerFigure) -> tuple[e.Event, ...]:
    """Take the vehicle maker's figure; it wins from here on, and what was judged without it is measured again."""
    judged = [check for check in knowledge.checks.values() if _uses(check, command.figure)]
    torques = {torque.id for remedy in knowledge.remedies.values() for torque in remedy.torques}
    if not judged and command.figure not in torques:
        raise CommandRefused("There is no such figure.", "Choose one of the figures of the step on screen.")
    reference = words(command.reference, "Where the figure stands")
    entered = command.as_event(e.MakerFigureEntered, reference=reference)
    _expect_ascending(judged, evolve(state, entered))
    found = {"finding": state.findings, "proving": state.after}.get(state.stage, {})
    stale = [check.id for check in judged if check.id in found and found[check.id].verdict]
    taken_back = [e.FindingTakenBack(**command.stamp, check=check) for check in stale]
    return (entered, *(corrected(state, command) if stale else ()), *taken_back)


def _uses(check: Check, figure: str) -> bool:
    return check.reading is not None and any(zone.figure == figure for zone in check.reading.zones)


def _expect_ascending(checks: list[Check], state: State) -> None:
    limits = [[limit.value for limit in limits_of(check.reading, state)] for check in checks if check.reading]
    if any(low >= high for row in limits for low, high in pairwise(row)):
        raise CommandRefused(
            "This figure does not fit between the limits beside it.",
            "Check it; where the maker gives several limits, enter the highest first.",
        )


def pause(_knowledge: Knowledge, state: State, command: c.Pause) -> tuple[e.Event, ...]:
    """Leave the vehicle; every confirmation ends."""
    if state.paused:
        raise CommandRefused("The session is paused already.", "Resume it at the vehicle.")
    return (*left(state, command, "paused"), command.as_event(e.SessionPaused))


def resume(knowledge: Knowledge, state: State, command: c.Resume) -> tuple[e.Event, ...]:
    """Come back to the vehicle; under this program's interlocks, where the session brought others."""
    if not state.paused:
        raise CommandRefused("The session is not paused.", "Go on with the step on screen.")
    stamp = command.stamp_of(words(command.who, "The name"))
    installed = (e.RulesInstalled(**stamp, rules=RULES, interlocks=command.under),) if command.under else ()
    # Nobody knows where the vehicle was meanwhile.
    under = knowledge.under(command.under) if command.under else knowledge
    return (*installed, e.SessionResumed(**stamp), *looks_ended(under, state, command))


def hand_over(_knowledge: Knowledge, state: State, command: c.HandOver) -> tuple[e.Event, ...]:
    """Give the session to a colleague; every confirmation ends."""
    handed = command.as_event(e.SessionHandedOver, to=words(command.to, "The colleague's name"))
    return (*left(state, command, "handed-over"), handed)


def left(state: State, command: c.Command, because: Literal["paused", "handed-over"]) -> tuple[e.Event, ...]:
    """What ends where the vehicle is left."""
    events: list[e.Event] = []
    if state.run == "running":
        events.append(e.RunEnded(**command.stamp, because="interrupted"))
    if state.standing:
        events.append(e.ThingsEnded(**command.stamp, things=tuple(state.standing), because=because))
    return tuple(events)


def lose_trace(knowledge: Knowledge, state: State, command: c.LoseTrace) -> tuple[e.Event, ...]:
    """End a running state: what happens in it could not be written down."""
    place = knowledge.states.get(state.inside)
    running = state.condition.engine == "running" or (place is not None and place.engine == "running")
    stop = interlocks.ended(knowledge, state, command, "stop") if running else ()
    if not any(line in state.standing for one in stop for line in one.things):
        return ()
    ended = (e.RunEnded(**command.stamp, because="interrupted"),) if state.run == "running" else ()
    return (*ended, *(one.model_copy(update={"because": "not-saved"}) for one in stop))


def tick(_knowledge: Knowledge, _state: State, _command: c.Tick) -> tuple[e.Event, ...]:
    """Let time pass: what it ends is worked out before every command."""
    return ()


def close(knowledge: Knowledge, state: State, command: c.Close) -> tuple[e.Event, ...]:
    """End the session: signed off once everything is proved, or without repair at any moment, with the reason."""
    base = {**command.stamp, "head": command.head}
    if state.run in ("running", "overdue") or state.condition.engine == "running":
        raise CommandRefused("The engine may still be running.", "Switch it off and say so first.")
    if command.how == "without-repair":
        reason = words(command.reason, "The reason")
        said = {"how": "without-repair", "reason": reason, "not_proved": (), "proof": _proof_so_far(knowledge, state)}
        return (*_taken_off(knowledge, state, command), e.SessionClosed.model_validate({**base, **said}))
    if command.how != "signed-off":
        raise CommandRefused("A session is signed off, or closed without repair.", "Choose one of these.")
    expect_step(state, "prove")
    _expect_proved(knowledge, state)
    if to_take_off(knowledge, state):
        # What ended at this very moment, by a clock that jumped, was said before it.
        raise CommandRefused("Confirmations have run out in the meantime.", "Confirm them again, then sign off.")
    not_proved = tuple(check for check, finding in state.after.items() if not finding.outcomes)
    closed = {**base, "how": "signed-off", "reason": command.reason.strip(), "not_proved": not_proved}
    return (e.SessionClosed.model_validate({**closed, "proof": "proved-gone"}),)


def _proof_so_far(knowledge: Knowledge, state: State) -> Proof:
    """What is proved where somebody ends a session: nothing is said where no repair was begun."""
    return proof_of(knowledge, state) if state.stage in ("working", "proving") else ""


def _expect_proved(knowledge: Knowledge, state: State) -> None:
    bad = disproving(knowledge, state) or tuple(filter(None, (interlocks.closing_check(knowledge, state),)))
    if bad:
        names = ", ".join(knowledge.checks[check].name for check in bad)
        raise CommandRefused(f"Not cured yet: {names}.", "Say that it is not cured and go on searching.")
    if proof_of(knowledge, state) != "proved-gone":
        raise CommandRefused(
            "It is not proved that the complaint is gone.", "Leave it open as proof pending, or close it with a reason."
        )


def _taken_off(knowledge: Knowledge, state: State, command: c.Close) -> tuple[e.Event, ...]:
    """What was clipped on comes off before a vehicle leaves, repaired or not."""
    off = to_take_off(knowledge, state)
    for line in off:
        if line not in command.off:
            raise CommandRefused(f"Not confirmed: {knowledge.confirmations[line].ask}", "Take them off, then close.")
    place = stands_in(knowledge, state).id
    return tuple(e.ThingConfirmed(**command.stamp, state=place, confirmation=line, name="") for line in off)
