"""What happened, as one structured entry for each event: the page, the playback and what a face says all read these."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import assert_never

from triage.knowledge.models import Knowledge
from triage.present.said.judgement import record_words, verdict_words
from triage.present.said.safety import engine_words, interlock_words
from triage.present.said.search import check_words, reasoning_words
from triage.present.said.vehicle import vehicle_words
from triage.present.said.words import Words
from triage.present.said.work import keeping_words, repair_words
from triage.present.steps.shares import beside_conclusion
from triage.present.steps.ways import instruments_words
from triage.present.steps.worth import checks_beside
from triage.record import events as e
from triage.record.readings import AccuracyUsed
from triage.session.evolving import evolve
from triage.session.state import State

SILENT: Mapping[type[e.Event], str] = MappingProxyType(
    {
        e.SessionStarted: "it stands at the head of every page",
        e.StepOffered: "what came of the step is said, and a face shows the step itself",
    }
)
"""Events without a line, each with the reason."""


@dataclass(frozen=True)
class Entry:
    """One event in words; no text has been cleaned.

    Args:
        who: who is behind it.
        at_ms: when, by the wall clock.
        kind: the event's kind.
        words: what happened, in one line; empty where that is said in another place.
        under: what stands under that line: how a reading was judged, what was said of a conclusion.
        aloud: what a face says at once to whoever is at the key.
    """

    who: str
    at_ms: int
    kind: str
    words: str
    under: tuple[str, ...] = ()
    aloud: tuple[str, ...] = ()


def said(knowledge: Knowledge, event: e.Event) -> Entry:
    """One event by itself, without what only the whole session can say under it."""
    words = _words(knowledge, event)
    return Entry(event.who, event.at_ms, event.kind, words.line, aloud=words.aloud)


def _words(knowledge: Knowledge, event: e.Event) -> Words:
    if isinstance(event, e.OfKeeping):
        return keeping_words(knowledge, event)
    if isinstance(event, e.OfInterlock):
        return interlock_words(knowledge, event)
    if isinstance(event, e.OfChecks):
        return check_words(knowledge, event)
    if isinstance(event, e.OfEngine):
        return engine_words(knowledge, event)
    if isinstance(event, e.OfReasoning):
        return reasoning_words(knowledge, event)
    if isinstance(event, e.OfVehicle):
        return vehicle_words(knowledge, event)
    if isinstance(event, e.OfRepair):
        return repair_words(knowledge, event)
    assert_never(event)


def entries(knowledge: Knowledge, events: Sequence[e.Event]) -> Iterator[Entry]:
    """The entries of a whole session, one for each event and in its order."""
    accuracies = events[0].accuracies if events and isinstance(events[0], e.SessionStarted) else {}
    state, beside = State(), tuple[str, ...]()
    for event in events:
        state = evolve(state, event)
        under: tuple[str, ...] = ()
        if isinstance(event, e.ReadingTaken):
            under = _judged(knowledge, accuracies, event)
        elif isinstance(event, e.ConclusionReached):
            beside = ()
        elif isinstance(event, e.AdviceGiven) and state.concluded and not event.asked:
            before, beside = beside, (*beside_conclusion(knowledge, state), *checks_beside(knowledge, state))
            # Advice is given anew when a part's age is told; where it says the same, once is enough.
            under = beside if beside != before else ()
        yield replace(said(knowledge, event), under=under)


def _judged(knowledge: Knowledge, accuracies: Mapping[str, AccuracyUsed], event: e.ReadingTaken) -> tuple[str, ...]:
    old = "mean of both: " if event.attempt > 1 and not event.by_itself else ""
    instruments = instruments_words(knowledge, accuracies, knowledge.checks[event.check].reading, event.way)
    return instruments, f"{record_words(event)}{old}{verdict_words(knowledge, event.check, event.verdict)}"
