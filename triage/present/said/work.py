"""The repair, and what keeps a session together, in words."""

from typing import assert_never

from triage.knowledge.models import Knowledge
from triage.present.said.search import WRITTEN_DOWN
from triage.present.said.undone import undone_words
from triage.present.said.words import Words
from triage.present.shapes import PROOFS
from triage.record import events as e

PENDING = "The session stays open as proof pending. What lets the engine run is looked at again before it starts."
OTHER_RULES = "This session was begun under other interlocks. It goes on under those of this program."


def repair_words(knowledge: Knowledge, event: e.OfRepair) -> Words:
    """An event of the repair."""
    match event:
        case e.RemedyBegun():
            return Words("began: " + ", ".join(knowledge.remedies[remedy].name for remedy in event.remedies))
        case e.PlaceNamed():
            return Words(f"{knowledge.remedies[event.remedy].name}: {event.place}")
        case e.PartRecorded():
            return Words(f"part {event.part}: {event.done}")
        case e.TorqueRecorded() if event.value_nm is None:
            return Words(f"torque {event.torque}: none ({event.text})")
        case e.TorqueRecorded():
            figure = f"figure {event.figure} from" if event.figure else "figure from"
            off = ", OFF ITS FIGURE by more than the wrench may be" if event.off else ""
            return Words(f"torque {event.torque}: {event.text}, {event.wrench}, {figure} {event.reference}{off}")
        case e.WorkFinished():
            return Words("all work is recorded: the proof begins")
        case e.ProofLeftOpen():
            return Words("proof pending: repaired, and not proved gone yet", (PENDING,))
        case e.NotCured():
            said = "gone, and another fault was seen" if event.another else "not cured"
            return Words(f"{said}: the search goes on")
    assert_never(event)


def keeping_words(knowledge: Knowledge, event: e.OfKeeping) -> Words:
    """An event that keeps the session together."""
    match event:
        case e.StepOffered():
            return Words()
        case e.NoteAdded():
            return Words(f"note: {event.text}", (WRITTEN_DOWN,))
        case e.SessionPaused():
            return Words("paused")
        case e.SessionResumed():
            return Words("back at the vehicle")
        case e.RulesInstalled():
            rules = f"(safety rules {event.rules})"
            return Words(f"goes on under the interlocks of the program that took it up {rules}", (OTHER_RULES,))
        case e.SessionHandedOver():
            return Words(f"handed over to {event.to} at {event.head}", _mark(event.head))
        case e.SessionClosed():
            return Words(_closed(event), _mark(event.head))
        case e.ActUndone():
            return undone_words(knowledge, event)
        case e.NotUnderstood():
            return Words(f'something that this program does not know: "{event.what}", version {event.of_version}')
    assert_never(event)


def _closed(event: e.SessionClosed) -> str:
    proof = f"; not proved: {', '.join(event.not_proved)}" if event.not_proved else ""
    reason = f" ({event.reason})" if event.reason else ""
    said = f", {PROOFS[event.proof]}" if event.proof else ""
    return f"closed: {event.how}{said}{reason}{proof} at {event.head}"


def _mark(head: str) -> tuple[str, ...]:
    return (f"Saved. Trace {head}: give this with the file.",) if head else ()
