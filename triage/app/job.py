"""One session at work: decides, writes to disk, and only then moves on."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from triage.app.advice import advice, turning_point
from triage.app.costs import repair_advice
from triage.app.opening import Opening
from triage.app.own_route import own_route
from triage.app.tracing import to_events, to_lines
from triage.errors import TraceDamaged
from triage.knowledge.models import Knowledge
from triage.reasoning.prices import Prices
from triage.reasoning.weights import Weights
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.events import (
    CheckAnswered,
    CheckNotDone,
    ConclusionReached,
    Event,
    FactCorrected,
    OwnRouteEnded,
    ReadingTaken,
    RenewalTold,
    SessionStarted,
)
from triage.session.evolving import fold
from triage.store import Head, TraceWriter, read_trace

_TABLES = {
    "symptom": "trees",
    "check": "checks",
    "causes": "causes",
    "remedies": "remedies",
    "state": "states",
    "carried": "confirmations",
}
"""Which part of the knowledge an event's field names something of."""

ENDS = (ConclusionReached, OwnRouteEnded, RenewalTold)
"""After these the conclusion is weighed."""
TURNING = (CheckAnswered, ReadingTaken, CheckNotDone, FactCorrected)
"""After these it is said where checks pay no more, or again; not to recorded cases, which nobody works on."""
Clock = Callable[[], int]
"""Milliseconds since 1970-01-01 UTC."""


class Job:
    """A session with its knowledge, its trace on disk and a clock.

    An event is on disk before the state moves: what a face acknowledges after `do` is never lost.
    """

    def __init__(
        self,
        knowledge: Knowledge,
        writer: TraceWriter | None,
        clock: Clock,
        who: str,
        events: tuple[Event, ...] = (),
    ) -> None:
        """Take up a session; without a writer it is only played.

        Args:
            knowledge: what the session uses; for a resumed one, the knowledge out of its trace.
            writer: the trace; None for recorded cases, which nobody works on.
            clock: gives the time of each command.
            who: who gives the commands.
            events: what happened so far.
        """
        self.knowledge = knowledge
        self.clock = clock
        self.who = who
        self.events = events
        self.state = fold(events)
        self._writer = writer

    def do(self, command: c.Command) -> tuple[Event, ...]:
        """Let time pass, then carry a command out.

        Raises:
            CommandRefused: the command is not allowed now; time may have passed all the same.
            StoreUnavailable: the trace could not be written; the session has not moved.
        """
        if self.state.events:
            self._advance(c.Tick(at_ms=command.at_ms, who="clock"))
        if isinstance(command, c.HandOver | c.Close):
            command = replace(command, head=str(self.head))
        happened = self._advance(command)
        if self.state.concluded and any(isinstance(event, ConclusionReached) for event in happened):
            route = own_route(self.knowledge, self.state, command.at_ms)
            happened += self._advance(route) if route else ()
        weighed = self.state.concluded and any(isinstance(event, ENDS) for event in happened)
        if weighed:
            happened += self._advance(advice(self.knowledge, self.state, command.at_ms))
        elif self._writer and any(isinstance(event, TURNING) for event in happened):
            turned = turning_point(self.knowledge, self.state, command.at_ms)
            happened += self._advance(turned) if turned else ()
        if weighed:
            happened += self._advance(repair_advice(self.knowledge, self.state, command.at_ms))
        if isinstance(command, c.Resume):
            self.who = command.who
        return happened

    def tick(self) -> tuple[Event, ...]:
        """Let time pass."""
        return self._advance(c.Tick(at_ms=self.clock(), who="clock"))

    @property
    def head(self) -> Head:
        """Count and digest of the trace."""
        return self._writer.head if self._writer else Head(len(self.events), "")

    def leave(self) -> None:
        """Close the trace."""
        if self._writer:
            self._writer.close()

    def _advance(self, command: c.Command) -> tuple[Event, ...]:
        if self.state.closed and isinstance(command, c.Tick):
            return ()
        happened = decide(self.knowledge, self.state, command)
        if self._writer and happened:
            self._writer.append(to_lines(happened, len(self.events) + 1))
        self.events = (*self.events, *happened)
        self.state = fold(happened, self.state)
        return happened


def start(
    knowledge: Knowledge,
    opening: Opening,
    accuracies: Mapping[str, c.Accuracy],
    reviewer: str,
    clock: Clock,
    writer: TraceWriter | None,
    prices: Prices | None = None,
    weights: Weights | None = None,
) -> Job:
    """Open a session and write its first events."""
    job = Job(knowledge, writer, clock, opening.who)
    command = c.Start(
        at_ms=clock(),
        who=opening.who,
        knowledge=knowledge,
        symptom=opening.symptom,
        job=opening.job,
        words=opening.words,
        accuracies=dict(accuracies),
        reviewer=reviewer,
        prices=prices or Prices(),
        weights=weights or Weights(),
    )
    job.do(command)
    return job


def resume(path: Path, clock: Clock, who: str) -> tuple[Job, tuple[str, ...]]:
    """Take a saved session up again: the vehicle was left, so it is paused until somebody says that they are there.

    Returns:
        The session, and what a person should know about its trace.

    Raises:
        TraceDamaged: the trace does not hold together.
        StoreUnavailable: somebody else is writing it.
    """
    writer, lines, notices = TraceWriter.reopen(path)
    try:
        events = to_events(lines)
        job = Job(knowledge_of(events, path), writer, clock, who or fold(events).holder, events)
        if not job.state.paused and not job.state.closed:
            job.do(c.Pause(at_ms=clock(), who=job.who))
        # A trace that was cut or edited behind its pause still has a step of before it, perhaps at the running engine.
        job.tick()
    except BaseException:
        writer.close()
        raise
    return job, notices


class Replayed(NamedTuple):
    """A trace as it was read; `notices` is what a reader should know about its end."""

    knowledge: Knowledge
    events: tuple[Event, ...]
    head: Head
    notices: tuple[str, ...]


def replay(path: Path) -> Replayed:
    """Read a trace without taking it up.

    Raises:
        TraceDamaged: the trace does not hold together.
    """
    trace = read_trace(path)
    events = to_events(trace.lines)
    return Replayed(knowledge_of(events, path), events, trace.head, trace.notices)


def knowledge_of(events: tuple[Event, ...], path: Path) -> Knowledge:
    """The knowledge that travels in a trace.

    Raises:
        TraceDamaged: it does not begin with the start of a session, or an event names what its knowledge lacks.
    """
    if not events or not isinstance(events[0], SessionStarted):
        raise TraceDamaged(f"{path.name} does not begin with the start of a session.", "Choose another trace.")
    knowledge = events[0].knowledge
    for number, event in enumerate(events, 1):
        for name in _strangers(knowledge, event):
            message = f'{path.name} is damaged. Line {number} names "{name}", which its knowledge does not hold.'
            raise TraceDamaged(message, "Ask for the original; nothing in it was changed.")
    return knowledge


def _strangers(knowledge: Knowledge, event: Event) -> list[str]:
    """What an event names that is not there; only an edited trace has any."""
    strangers = []
    for field, table in _TABLES.items():
        named = getattr(event, field, ())
        names = (named,) if isinstance(named, str) else named
        strangers += [name for name in names if name and name not in getattr(knowledge, table)]
    return strangers
