"""What a face says at once about what has just happened."""

from collections.abc import Iterable

from triage.drive.account import NOTICE
from triage.knowledge.models import Knowledge
from triage.present.drive_facts import match_words
from triage.present.page import judged_words
from triage.present.renewals import renewal_words
from triage.present.vehicle import REPAIRING, corrected_words
from triage.present.ways import caveat
from triage.present.worth import turned
from triage.record import events as e

TIME_PASSED = "Time has passed: the step has changed. Nothing that was answered is lost."
ANOTHER = 'Written down. Which other check is worth its minutes: "worth"'
DROPPED = "Dropped. Answer the step on screen."


def told(knowledge: Knowledge, happened: Iterable[e.Event]) -> list[str]:
    """A reading with its verdict, a state entered, what was written down, a layout, a rate, checks that pay no more."""
    lines = []
    for event in happened:
        if isinstance(event, e.ReadingTaken):
            lines += [judged_words(knowledge, event), *_caveat(knowledge, event)]
        elif isinstance(event, e.ThingsCarried):
            lines += [f"Still holds: {knowledge.confirmations[one].ask}" for one in event.since]
        elif isinstance(event, e.StateEntered):
            lines.append(f"All confirmed. {knowledge.states[event.state].words}")
        elif isinstance(event, e.NoteAdded | e.MakerFigureEntered | e.RenewalTold | e.CheckNotDone | e.FactCorrected):
            lines += _written_down(knowledge, event)
        elif isinstance(event, e.LayoutUsed):
            lines.append(f'Layout {event.name} is used from here on. Type "drive" to see what it comes to.')
            lines += [event.known.against] if event.known.against else []
            lines += [f"Taken for granted: {sentence}" for sentence in event.known.assumed]
        elif isinstance(event, e.AdviceGiven) and not event.asked and not event.stands:
            lines.append(turned(knowledge, event))
        elif isinstance(event, e.RateMatched):
            lines += [match_words(event.match), NOTICE]
        elif isinstance(event, e.SessionHandedOver | e.SessionClosed) and event.head:
            lines.append(f"Saved. Trace {event.head}: give this with the file.")
    return lines


def _written_down(knowledge: Knowledge, event: e.Event) -> list[str]:
    if isinstance(event, e.RenewalTold):
        return [renewal_words(knowledge, event)]
    if isinstance(event, e.FactCorrected):
        return [f"{corrected_words(event)}.", *([REPAIRING] if event.repairing else [])]
    return [ANOTHER if isinstance(event, e.CheckNotDone) else "Written down."]


def _caveat(knowledge: Knowledge, event: e.ReadingTaken) -> list[str]:
    reading = knowledge.checks[event.check].reading
    return [line for way in (reading.other_ways if reading else ()) if way.id == event.way for line in caveat(way)]
