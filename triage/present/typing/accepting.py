"""What was understood and accepted becomes the commands that typed answers come to; nothing here confirms or starts.

There is a command for findings, readings, what cannot be done, missing tools and facts of the vehicle, and for no other
item. A finding of another check than the one on screen is asked for first, where that may be; else its reason is said.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from triage.app.respondent import Given
from triage.errors import CommandRefused, TriageError
from triage.listening import items as i
from triage.present.typing.reading import outcomes_or_reading
from triage.present.typing.results import Ask
from triage.record.events import Event
from triage.session import commands as c

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.knowledge.models import Check
    from triage.session.state import State

ALWAYS_MADE: Final = "A look that lets the engine run is always made, at its own step."
NOT_NOW: Final = "I keep it and ask you at its own step, once that is made safe."
NOT_ASKED: Final = "I keep that and do not ask it again."
MISSING: Final = "Not at hand: "
"""How the note of a missing tool begins."""


@dataclass(frozen=True)
class Told:
    """A check came to this, in words: one outcome or several, or a reading."""

    check: str
    outcomes: tuple[str, ...] = ()
    reading: i.Reading | None = None


@dataclass(frozen=True)
class Accepted:
    """What came of accepted items.

    Args:
        events: what happened.
        left: what was told and does not count now.
        why: for each of these.
        goes_on: lines to carry out as if they were typed now; empty where nothing is asked any more.
    """

    events: tuple[Event, ...] = ()
    left: tuple[Told, ...] = ()
    why: tuple[str, ...] = ()
    goes_on: tuple[str, ...] = ()


def told_in(items: Iterable[i.Item]) -> tuple[Told, ...]:
    """The findings of a sentence by their check, and its readings."""
    found: dict[str, tuple[str, ...]] = {}
    for item in items:
        if isinstance(item, i.Finding):
            found[item.check] = (*found.get(item.check, ()), item.outcome)
    readings = (Told(item.check, reading=item) for item in items if isinstance(item, i.Reading))
    return (*(Told(check, outcomes) for check, outcomes in found.items()), *readings)


def lets_run(check: "Check") -> bool:
    """Whether a check is a look that keeps an engine from running, or lets it run."""
    return any(outcome.closes_running for outcome in check.outcomes)


def is_asked(state: "State", check: str) -> bool:
    """Whether a check can be answered on the step on screen."""
    step = state.step
    return check in step.open if step.kind == "round" else step.kind in ("check", "result") and step.check == check


class Acceptance:
    """Carries accepted items out, one after the other."""

    def __init__(self, job: "Job", on_screen: str, text: str) -> None:
        """Begin.

        Args:
            job: the session.
            on_screen: the check on screen, or the line of a round that was picked; "" where none is.
            text: the sentence, which is written down where something of it does not count now;
                "" where it stands in the trace already.
        """
        self._job = job
        self._on_screen = on_screen
        self._text = text
        self._events: tuple[Event, ...] = ()
        self._left: list[Told] = []
        self._why: list[str] = []
        self._goes_on: tuple[str, ...] = ()

    def accept(self, items: tuple[i.Item, ...]) -> Accepted:
        """Carry items out: what is known of the vehicle first, then findings, then what still asks something.

        Raises:
            TriageError: nothing can be saved now; what came before it stands.
        """
        for item in items:
            if isinstance(item, i.WordFact | i.MeasuredFact):
                self._fact(item)
        for told in sorted(told_in(items), key=lambda one: (one.reading is not None, one.check != self._on_screen)):
            self._tell(told)
        for item in items:
            self._obstacle(item)
        if self._left and self._text:
            self._do(c.Note(**self._stamp, text=self._text))
        return Accepted(self._events, tuple(self._left), tuple(self._why), self._goes_on)

    @property
    def _stamp(self) -> Given:
        return {"at_ms": self._job.clock(), "who": self._job.who}

    def _do(self, *commands: c.Command) -> None:
        for command in commands:
            self._events += self._job.do(command, advise=False)

    def _fact(self, item: i.WordFact | i.MeasuredFact) -> None:
        value: str | float | None = item.value_si if isinstance(item, i.MeasuredFact) else item.value
        value = None if value == "unknown" else float(value) if isinstance(value, int) else value
        if self._job.state.facts.get(item.fact) != value:
            self._do(c.CorrectFact(**self._stamp, fact=item.fact, value=value))

    def _tell(self, told: Told) -> None:
        name = self._job.knowledge.checks[told.check].name
        try:
            self._do(*self._way_to(told))
            if told.reading:
                self._read(told.check, told.reading)
            elif set(self._finding(told.check) or ()) != set(told.outcomes):
                self._do(self._answer(told))
        except CommandRefused as error:
            self._left.append(told)
            asks = self._job.knowledge.checks[told.check].way == "ask"
            self._why.append(f"{name}: {NOT_ASKED if asks else error}")

    def _finding(self, check: str) -> tuple[str, ...] | None:
        """What a check came to before, where it is not asked anew."""
        known = None if is_asked(self._job.state, check) else self._job.state.known.get(check)
        return known.outcomes if known else None

    def _answer(self, told: Told) -> c.Command:
        if self._finding(told.check) is None:
            return c.Answer(**self._stamp, check=told.check, outcomes=told.outcomes)
        return c.Correct(**self._stamp, check=told.check, outcomes=told.outcomes)

    def _way_to(self, told: Told) -> tuple[c.Command, ...]:
        """What leads to the check first.

        Raises:
            CommandRefused: it cannot be answered now.
        """
        state, check = self._job.state, self._job.knowledge.checks[told.check]
        if is_asked(state, told.check):
            return ()
        if lets_run(check) and not self._closes(check, told):
            raise CommandRefused(ALWAYS_MADE, "")
        if told.check in state.known:
            if told.reading:
                raise CommandRefused("It was measured before.", 'Type "amend" to put it right.')
            return ()
        asks = c.AskFor(**self._stamp, check=told.check)
        if not is_asked(self._job.would(asks), told.check):
            raise CommandRefused(NOT_NOW, "")
        if told.outcomes:
            self._job.would(asks, self._answer(told))  # nothing is asked for that could not be answered then
        return (asks,)

    def _closes(self, check: "Check", told: Told) -> bool:
        found = [check.outcome(outcome) for outcome in told.outcomes]
        return bool(found) and all(one and one.closes_running for one in found)

    def _read(self, check: str, reading: i.Reading) -> None:
        """A reading goes the way of typed ones: where something is asked about it, the question stays open."""
        line = ";".join(reading.pieces)
        known = self._job.knowledge.checks[check]
        try:
            given = outcomes_or_reading(self._job.knowledge, self._job.state, known, (line,))
        except CommandRefused:
            raise
        except TriageError as error:
            raise CommandRefused(error.message, error.hint) from error
        if isinstance(given, Ask):
            self._goes_on = self._at(check, line)
        elif given[1]:
            self._do(c.Read(**self._stamp, check=check, parts=given[1]))

    def _at(self, check: str, *lines: str) -> tuple[str, ...]:
        """Lines as they are typed for a check on screen."""
        return (check, *lines) if self._job.state.step.kind == "round" else lines

    def _obstacle(self, item: i.Item) -> None:
        """What cannot be done, a tool that is missing, a word that leads through the session."""
        state, knowledge = self._job.state, self._job.knowledge
        if isinstance(item, i.ToolMissing):
            tool = knowledge.tools[item.tool]
            self._do(c.Note(**self._stamp, text=f"{MISSING}{tool.name}"))
            if self._on_screen and needs(knowledge.checks[self._on_screen], {item.tool}):
                self._cannot(self._on_screen, f"not at hand: {tool.name}")
        elif isinstance(item, i.Cannot) and item.reason:
            self._cannot(item.check, item.reason)
        elif isinstance(item, i.Cannot) and is_asked(state, item.check):
            self._goes_on = self._at(item.check, "cannot")
        elif isinstance(item, i.Do):
            self._goes_on = (item.word.replace("-", " "),)

    def _cannot(self, check: str, reason: str) -> None:
        if is_asked(self._job.state, check):
            self._do(c.CannotDo(**self._stamp, check=check, reason=reason))


def needs(check: "Check", missing: set[str]) -> bool:
    """Whether a check cannot be made without one of these tools: no way of its reading does without."""
    ways = check.reading.ways if check.reading else ()
    lacking = [{way.instrument, *(part.instrument for part in way.parts)} & missing for way in ways]
    return bool(missing & set(check.tools)) or (bool(ways) and all(lacking))
