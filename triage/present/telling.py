"""What a face says at once about what has just happened."""

from collections.abc import Iterable

from triage.drive.pages.figures_page import NOTICE
from triage.knowledge.models import Knowledge
from triage.present.drive_facts import match_words
from triage.present.page import judged_words, shifted_words
from triage.present.renewals import renewal_words
from triage.present.vehicle import REPAIRING, corrected_words
from triage.present.ways import caveat
from triage.present.worth import turned
from triage.record import events as e

TIME_PASSED = "Time has passed: the step has changed. Nothing that was answered is lost."
ANOTHER = 'Written down. Which other check is worth its minutes: "worth"'
OTHER_RULES = "This session was begun under other interlocks. It goes on under those of this program."
DROPPED = "Dropped. Answer the step on screen."


def told(knowledge: Knowledge, happened: Iterable[e.Event]) -> list[str]:
    """A reading with its verdict, a state entered, what was written down, a layout, a rate, checks that pay no more."""
    return [line for event in happened for line in (_answered(knowledge, event) or _happened(knowledge, event))]


def _answered(knowledge: Knowledge, event: e.Event) -> list[str]:
    if isinstance(event, e.ReadingTaken):
        return [judged_words(knowledge, event), *_caveat(knowledge, event)]
    if isinstance(event, e.ThingsCarried):
        return [f"Still holds: {knowledge.confirmations[one].ask}" for one in event.since]
    if isinstance(event, e.StateEntered):
        return [f"All confirmed. {knowledge.states[event.state].words}"]
    if isinstance(event, e.NoteAdded | e.MakerFigureEntered | e.RenewalTold | e.CheckNotDone | e.FactCorrected):
        return _written_down(knowledge, event)
    return []


def _happened(knowledge: Knowledge, event: e.Event) -> list[str]:
    if isinstance(event, e.LayoutUsed):
        return _layout(event)
    if isinstance(event, e.AdviceGiven) and not event.asked and not event.stands:
        return [turned(knowledge, event)]
    if isinstance(event, e.RateMatched):
        return [match_words(event.match), NOTICE]
    if isinstance(event, e.ClockShifted):
        return [_shifted(event)]
    if isinstance(event, e.RulesInstalled):
        return [OTHER_RULES]
    if isinstance(event, e.SessionHandedOver | e.SessionClosed) and event.head:
        return [f"Saved. Trace {event.head}: give this with the file."]
    return []


def _layout(event: e.LayoutUsed) -> list[str]:
    against = [event.known.against] if event.known.against else []
    assumed = [f"Taken for granted: {sentence}" for sentence in event.known.assumed]
    return [f'Layout {event.name} is used from here on. Type "drive" to see what it comes to.', *against, *assumed]


def _shifted(event: e.ClockShifted) -> str:
    words = shifted_words(event)
    ended = " Every confirmation has ended." if abs(event.by_ms) > e.JUMP_MS else ""
    return f"{words[0].upper()}{words[1:]}.{ended}"


def _written_down(knowledge: Knowledge, event: e.Event) -> list[str]:
    if isinstance(event, e.RenewalTold):
        return [renewal_words(knowledge, event)]
    if isinstance(event, e.FactCorrected):
        return [f"{corrected_words(event)}.", *([REPAIRING] if event.repairing else [])]
    return [ANOTHER if isinstance(event, e.CheckNotDone) else "Written down."]


def _caveat(knowledge: Knowledge, event: e.ReadingTaken) -> list[str]:
    reading = knowledge.checks[event.check].reading
    return [line for way in (reading.other_ways if reading else ()) if way.id == event.way for line in caveat(way)]
