"""One session at work: decides, writes to disk, and only then moves on."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from triage.app.advising.adviser import Adviser, AllAlong, AtConclusions
from triage.app.clocks import Steady
from triage.app.opening import Opening
from triage.app.tracing import stored, to_lines
from triage.errors import CommandRefused, NotSaved, StoreUnavailable, TooManyAtOnceError, TriageError
from triage.knowledge.models import Interlocks, Knowledge
from triage.knowledge.safety_floor import shortfalls
from triage.record.events import JUMP_MS, Event
from triage.record.prices import Prices
from triage.record.readings import AccuracyUsed
from triage.record.weights import Weights
from triage.session import commands as c
from triage.session.deciding import decide, under_rules
from triage.session.evolving import fold
from triage.session.rules.opening import RULES
from triage.session.state import State
from triage.store import Head, TraceWriter, export_trace

FLOOR = "docs/safety.md says what the program itself holds to, whatever a folder or a trace asks for."
ENDING = (c.Tick, c.EndRun, c.RaiseAlarm, c.RefuseConfirmation, c.SayChanged, c.Pause, c.LoseTrace)
"""What ends something: it counts at once, also where it cannot be saved."""
NOT_OF_THE_USER = (CommandRefused, NotSaved, TooManyAtOnceError)
"""What comes of what the program asks itself: none of it is a refusal of what was typed."""
Clock = Callable[[], int]
"""Milliseconds since 1970-01-01 UTC."""


class Job:
    """A session with its knowledge, its trace on disk and two clocks.

    An event is on disk before the state moves: what a face acknowledges after `do` is never lost. Where nothing can be
    saved, safety does not wait for the disk: what ends something counts at once, and is written first when saving works
    again; nothing else is taken.

    Attributes:
        knowledge: what the session uses.
        clock: the wall clock, for the record.
        who: who gives the commands.
        events: what happened so far.
        state: where the session stands.
        trouble: why nothing can be saved now, and what to do; empty where everything is saved.
    """

    def __init__(
        self,
        knowledge: Knowledge,
        writer: TraceWriter | None,
        clock: Clock,
        who: str,
        events: tuple[Event, ...] = (),
        steady: Steady | None = None,
        adviser: Adviser | None = None,
    ) -> None:
        """Take up a session; without a writer it is only played.

        Args:
            knowledge: what the session uses; for a resumed one, the knowledge out of its trace.
            writer: the trace; None for recorded cases, which nobody works on.
            clock: the wall clock [ms since 1970-01-01 UTC].
            who: who gives the commands.
            events: what happened so far.
            steady: the clock by which everything ages; None for a script whose one clock serves for both.
            adviser: says what the reasoning makes of it; None where nobody is to.
        """
        self.knowledge = knowledge
        self.clock = clock
        self.who = who
        self.events = events
        self.state = fold(events)
        self.trouble = ""
        self._writer = writer
        self._steady = steady
        self._adviser = adviser
        self._looked_ms = clock() if steady else 0
        self._boot = events[-1].boot + 1 if events else 1
        self._unsaved: tuple[Event, ...] = ()
        self._under: Interlocks | None = None
        self._weighs_ms: int | None = None

    def do(self, command: c.Command, *, advise: bool = True) -> tuple[Event, ...]:
        """Let time pass, then carry a command out.

        Args:
            command: what is asked.
            advise: whether to weigh at once if checks still pay, and not when `advise` is called, or before anything
                else happens; it changes no step, and takes longer than all the rest.

        Raises:
            CommandRefused: the command is not allowed now; time may have passed all the same.
            StoreUnavailable: it could not be saved and was not taken; a running engine is to be switched off.
        """
        if self.state.events:
            self._pass_time(command.at_ms)
        if isinstance(command, c.HandOver | c.Close):
            command = command.model_copy(update={"head": str(self.head)})
        if isinstance(command, c.Resume):
            command = command.model_copy(update={"under": self._under})
        happened = self._advance(command)
        happened += self._follow(happened, command.at_ms)
        if isinstance(command, c.Resume):
            self.who = command.who
        return happened + self.advise() if advise else happened

    def would(self, *commands: c.Command) -> State:
        """Where the session would stand after these commands; nothing happens.

        Raises:
            CommandRefused: one of them is not allowed then.
        """
        state = self.state
        for command in commands:
            state = fold(decide(self.knowledge, state, self._stamped(command)), state)
        return state

    def advise(self) -> tuple[Event, ...]:
        """Record whether checks have come to pay no more, or again, by the last answer; nothing where that was done.

        Where so much hangs together that it cannot be weighed, nothing is; the pages that ask for it say so.
        """
        at_ms, self._weighs_ms = self._weighs_ms, None
        if at_ms is None or self._adviser is None:
            return ()
        with suppress(*NOT_OF_THE_USER):
            turned = self._adviser.turned(self, at_ms)
            return self._advance(turned) if turned else ()
        return ()

    def tick(self) -> tuple[Event, ...]:
        """Let time pass. What it ends counts at once, whether or not it can be saved."""
        return self._pass_time(self.clock())

    def reading_ms(self) -> int:
        """The clock that only goes forward, now [ms]."""
        return self._steady.reading_ms() if self._steady else self.clock()

    @property
    def head(self) -> Head:
        """Count and digest of the trace."""
        return self._writer.head if self._writer else Head(len(self.events), "")

    @property
    def unsaved(self) -> tuple[Event, ...]:
        """What has happened and is not on the disk."""
        return self._unsaved

    def go_under(self, interlocks: Interlocks) -> None:
        """Let whoever takes the session up next work under these interlocks, where it knows others or other rules."""
        # What only the old ones name stays, for what was recorded.
        changed = self.knowledge.under(interlocks).interlocks != self.knowledge.interlocks
        differs = changed or self.state.rules != RULES
        self._under = interlocks if differs else None

    @property
    def knowledge_to_come(self) -> Knowledge:
        """What the session uses once somebody takes it up."""
        return self.knowledge.under(self._under) if self._under else self.knowledge

    def copy_to(self, path: Path) -> Path:
        """Save everything that happened in a new trace, and go on there where it cannot be saved in its own.

        Args:
            path: a new file; or a folder, where the trace keeps its name.

        Returns:
            the file in which everything is.

        Raises:
            StoreUnavailable: it cannot be written there either, or something of that name is there already.
        """
        if self._writer is None:
            raise StoreUnavailable("This session is only played; there is no trace to copy.", "Nothing was lost.")
        saved = len(self.events) - len(self._unsaved)
        place = path / self._writer.path.name if path.is_dir() else path
        copy = self._writer.copy_to(place, to_lines(self._unsaved, saved + 1))
        if self.trouble:
            self._writer.close()
            self._writer, self._unsaved, self.trouble = copy, (), ""
        else:
            copy.close()
        return copy.path

    def export_to(self, place: Path) -> Path:
        """Write everything that is saved as one file that can travel.

        Args:
            place: a new file; or a folder, where the trace keeps its name.

        Returns:
            the file.

        Raises:
            TraceDamaged: the trace was altered meanwhile.
            StoreUnavailable: it cannot be written there, or something of that name is there already.
        """
        if self._writer is None:
            raise StoreUnavailable("This session is only played; there is no trace to export.", "Nothing was lost.")
        return export_trace(self._writer.path, place)

    def leave(self) -> None:
        """Close the trace."""
        if self._writer:
            self._writer.close()

    def _pass_time(self, at_ms: int) -> tuple[Event, ...]:
        if self.state.closed:
            return ()
        lost = self._steady is not None and not self._steady.counts_sleep and at_ms - self._looked_ms > JUMP_MS
        self._looked_ms = at_ms
        weighed = self.advise()
        happened = self._advance(c.Tick(at_ms=at_ms, who="clock", lost=lost))
        return weighed + happened + self._watch_trace(at_ms)

    def _watch_trace(self, at_ms: int) -> tuple[Event, ...]:
        """Notice a trace that is gone before an answer is given beside a running engine; try again what waits."""
        try:
            if self._unsaved:
                self._save(())
            elif self._writer and self.state.condition.engine == "running":
                self._writer.expect_unaltered()
        except NotSaved as error:
            return self._lose_trace(error, at_ms)
        return ()

    def _follow(self, happened: tuple[Event, ...], at_ms: int) -> tuple[Event, ...]:
        """Record what the reasoning makes of what has just happened; a full disk takes nothing back."""
        followed: tuple[Event, ...] = ()
        if self._adviser is None:
            return followed
        with suppress(*NOT_OF_THE_USER):
            for command in self._adviser.follow(happened, self, at_ms):
                followed += self._advance(command)
            if self._adviser.turns(happened, self):
                self._weighs_ms = at_ms
        return followed

    def _advance(self, command: c.Command) -> tuple[Event, ...]:
        command = self._stamped(command)
        happened = decide(self.knowledge, self.state, command)
        try:
            if self._unsaved:
                self._save(())
            self._save(happened)
        except NotSaved as error:
            if isinstance(command, ENDING):
                self.trouble = str(error)
                self._unsaved += happened
            else:
                self._lose_trace(error, command.at_ms)
                raise
        self._take(happened)
        return happened

    def _stamped(self, command: c.Command) -> c.Command:
        """A command with the reading of the clock that only goes forward."""
        steady_ms = self._steady.reading_ms() if self._steady else command.at_ms
        return command.model_copy(update={"clock_ms": steady_ms, "boot": self._boot})

    def _save(self, happened: tuple[Event, ...]) -> None:
        """Write what waits, or what has just happened."""
        events = self._unsaved or happened
        if self._writer and events:
            self._writer.append(to_lines(events, len(self.events) - len(self._unsaved) + 1))
            self._unsaved, self.trouble = (), ""

    def _lose_trace(self, error: NotSaved, at_ms: int) -> tuple[Event, ...]:
        self.trouble = str(error)
        return self._advance(c.LoseTrace(at_ms=at_ms, who="clock"))

    def _take(self, happened: tuple[Event, ...]) -> None:
        self.events = (*self.events, *happened)
        self.state = fold(happened, self.state)
        self.knowledge = under_rules(self.knowledge, happened)


def start(
    knowledge: Knowledge,
    opening: Opening,
    accuracies: Mapping[str, AccuracyUsed],
    reviewer: str,
    clock: Clock,
    writer: TraceWriter | None,
    prices: Prices | None = None,
    weights: Weights | None = None,
    steady: Steady | None = None,
    adviser: Adviser | None = None,
) -> Job:
    """Open a session and write its first events.

    Args:
        knowledge: what it uses.
        opening: what is known before the first question.
        accuracies: of the instruments.
        reviewer: who looks at finished sessions.
        clock: the wall clock.
        writer: the trace; None where it is only played.
        prices: of this shop.
        weights: what a wrong end costs here.
        steady: the clock by which everything ages.
        adviser: says what the reasoning makes of it; where none is given, one that speaks all along to people, and at
            conclusions where nothing is kept.

    Raises:
        TriageError: the knowledge does not keep the floor of safety; no session begins with it.
    """
    short = shortfalls(knowledge)
    if short:
        raise TriageError(f"No session can begin with this knowledge. {short[0]}", FLOOR)
    if writer:
        writer.keep_knowledge(stored(knowledge))
    adviser = adviser or (AllAlong() if writer else AtConclusions())
    job = Job(knowledge, writer, clock, opening.who, steady=steady, adviser=adviser)
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
