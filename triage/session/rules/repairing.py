"""From the conclusion to the proof: the remedy, what was really done, and a cure that did not hold."""

from triage.errors import CommandRefused, TriageError
from triage.knowledge.models import Knowledge
from triage.knowledge.walk import fits
from triage.record import events as e
from triage.session import commands as c
from triage.session import interlocks
from triage.session.evolving import fold
from triage.session.proving import is_absent, proof_of
from triage.session.rounds import complaint_now
from triage.session.rules.asking import expect_step, words
from triage.session.rules.entering import looks_ended
from triage.session.rules.finding import corrected
from triage.session.rules.keeping import left
from triage.session.state import State
from triage.session.stepping import abnormal, needs_running
from triage.session.tightening import is_off
from triage.units import Quantity, parse_quantity

DONE = ("renewed", "found-good", "repaired", "left")


def begin(knowledge: Knowledge, state: State, command: c.BeginRemedy) -> tuple[e.Event, ...]:
    """Take on the remedies of what was concluded."""
    expect_step(state, "conclusion")
    if state.concluded is None or not state.concluded.causes:
        raise CommandRefused("Nothing was found that could be put right.", "Close the session with its advice.")
    remedies = tuple(dict.fromkeys(knowledge.causes[cause].remedy for cause in state.concluded.causes))
    return (e.RemedyBegun(**command.stamp, remedies=remedies),)


def put_right(knowledge: Knowledge, state: State, command: c.PutRight) -> tuple[e.Event, ...]:
    """Take the word that what kept the engine off is put right; the check is made again."""
    expect_step(state, "blocked")
    if command.check != state.step.check:
        raise CommandRefused("That is not what keeps the engine off.", "Put right what the step on screen names.")
    done = words(command.done, "What was done")
    right = command.as_event(e.FaultPutRight, done=done)
    # What was put right was worked on: the looks of before are about another drive.
    worked = fold((right,), state)
    ended = interlocks.ended(knowledge, worked, command, "hands-in", "belt-moved")
    return (*corrected(state, command), right, *ended, *looks_ended(knowledge, worked, command))


def name_place(_knowledge: Knowledge, state: State, command: c.NamePlace) -> tuple[e.Event, ...]:
    """Write down which of several pulleys, or which side of a circuit, is worked on."""
    expect_step(state, "which")
    if command.remedy != state.step.remedy:
        raise CommandRefused("That is not what is asked now.", "Answer for the remedy on screen.")
    return (command.as_event(e.PlaceNamed, place=words(command.place, "Which one")),)


def record_part(_knowledge: Knowledge, state: State, command: c.RecordPart) -> tuple[e.Event, ...]:
    """Write down what was really done with the part on screen."""
    expect_step(state, "part")
    if command.part != state.step.part:
        raise CommandRefused("That is not the part on screen.", "Answer for the part on screen.")
    if command.done not in DONE:
        raise CommandRefused("That is not one of the answers.", f"Answer with one of: {', '.join(DONE)}.")
    return (command.as_event(e.PartRecorded, note=command.note.strip()),)


def record_torque(knowledge: Knowledge, state: State, command: c.RecordTorque) -> tuple[e.Event, ...]:
    """Write down how the fastener on screen was tightened, with which wrench and by whose figure."""
    expect_step(state, "torque")
    if command.torque != state.step.torque:
        raise CommandRefused("That is not the fastener on screen.", "Answer for the fastener on screen.")
    if command.value_nm is None:
        return (command.as_event(e.TorqueRecorded),)
    if command.value_nm <= 0:
        raise CommandRefused("That is no torque.", "Type it again, or say that it was not tightened.")
    wrench, reference = words(command.wrench, "Which wrench"), words(command.reference, "Whose figure it is")
    off = bool(command.figure) and is_off(knowledge, state, command.torque, command.value_nm, _figure(command.figure))
    return (command.as_event(e.TorqueRecorded, wrench=wrench, reference=reference, off=off),)


def _figure(text: str) -> Quantity:
    try:
        return parse_quantity(text, "torque")
    except TriageError as error:
        raise CommandRefused(error.message, error.hint or "Type the figure again.") from error


def not_cured(knowledge: Knowledge, state: State, command: c.NotCured) -> tuple[e.Event, ...]:
    """Go on searching with what is known now.

    What was found strange before and was not checked again is about parts that have been worked on: it counts no more.
    Nor does what makes no sense on the vehicle, whose pulley type may have been put right since, or that the complaint
    was not there in the last run: that is asked in each.
    """
    expect_step(state, "prove")
    now = complaint_now(knowledge, state) if is_absent(knowledge, state) else ""
    stale = tuple(
        check
        for check, finding in state.known.items()
        if check == now
        or not fits(knowledge, check, state.vehicle)
        or (check not in state.after and abnormal(knowledge, state, finding) and knowledge.checks[check].way != "ask")
    )
    return (e.NotCured(**command.stamp, stale=stale, another=command.another),)


def leave_proof_open(knowledge: Knowledge, state: State, command: c.LeaveProofOpen) -> tuple[e.Event, ...]:
    """Leave with the repair done and nothing proved: what runs, and what could not be done, comes again."""
    expect_step(state, "prove")
    if proof_of(knowledge, state) != "not-provable":
        raise CommandRefused("There is nothing to wait for.", "Choose one of the answers on screen.")
    again = tuple(
        check for check, found in state.after.items() if not found.outcomes or needs_running(knowledge, check)
    )
    opened = e.ProofLeftOpen(**command.stamp, again=again)
    return (*left(state, command, "paused"), opened, e.SessionPaused(**command.stamp))
