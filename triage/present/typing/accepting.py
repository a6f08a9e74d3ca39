"""What was understood and accepted becomes the commands that typed answers come to; nothing here confirms or starts.

There is a command for findings, readings, what cannot be done, missing tools and facts of the vehicle, and for no other
item. A finding of another check than the one on screen is asked for first, where its vehicle state stands already; else
it is taken as told, on which no engine runs; else it is said why not.
"""

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from triage.app.respondent import Given
from triage.errors import CommandRefused, QuantityRefused, QuantityUnclear
from triage.knowledge.gates import lets_run
from triage.listening import items as i
from triage.present.typing.reading import outcomes_or_reading
from triage.present.typing.results import Ask
from triage.record.events import Event
from triage.record.readings import TypedPart
from triage.session import commands as c

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.knowledge.models import Check
    from triage.session.state import State

ALWAYS_MADE: Final = 'A look that lets the engine run is put right at its own step, or with "amend".'
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


def is_asked(state: "State", check: str) -> bool:
    """Whether a check can be answered on the step on screen."""
    step = state.step
    return check in step.open if step.kind == "round" else step.kind in ("check", "result") and step.check == check


def _closes(check: "Check", outcomes: tuple[str, ...]) -> bool:
    """Whether every one of these keeps the engine from running."""
    found = [check.outcome(outcome) for outcome in outcomes]
    return bool(found) and all(one and one.closes_running for one in found)


class Acceptance:
    """Carries accepted items out, one after the other."""

    def __init__(self, job: "Job", on_screen: str, text: str, by: str = "") -> None:
        """Begin.

        Args:
            job: the session.
            on_screen: the check on screen, or the line of a round that was picked; "" where none is.
            text: the sentence, which is written down where something of it does not count now;
                "" where it stands in the trace already.
            by: who found it, where that is not whoever types.
        """
        self._job = job
        self._by = by
        self._on_screen = on_screen
        self._text = text
        self._events: tuple[Event, ...] = ()
        self._left: list[Told] = []
        self._why: list[str] = []
        self._goes_on: tuple[str, ...] = ()

    def accept(self, items: tuple[i.Item, ...]) -> Accepted:
        """Carry items out: what is known of the vehicle first, then findings, then what still asks something.

        Raises:
            NotSaved: nothing can be saved now; what came before it stands.
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
        if item.fact not in self._job.state.facts:
            self._do(c.TellFact(**self._stamp, fact=item.fact, value=value))
        elif self._job.state.facts[item.fact] != value:
            self._do(c.CorrectFact(**self._stamp, fact=item.fact, value=value))

    def _tell(self, told: Told) -> None:
        name = self._job.knowledge.checks[told.check].name
        try:
            parts = self._parts(told.check, told.reading) if told.reading else ()
            if parts is not None:
                self._do(*self._commands(told, parts))
        except CommandRefused as error:
            self._left.append(told)
            self._why.append(f"{name}: {error}")

    def _commands(self, told: Told, parts: tuple[TypedPart, ...]) -> tuple[c.Command, ...]:
        """What a finding comes to: an answer where its check is asked or may be, a correction, else what was told.

        Raises:
            CommandRefused: none of these may be now.
        """
        state, check, outcomes = self._job.state, self._job.knowledge.checks[told.check], told.outcomes
        now = self._stamp
        answer: c.Command = c.Answer(**now, check=check.id, outcomes=outcomes)
        if parts:
            answer = c.Read(**now, check=check.id, parts=parts)
        if is_asked(state, check.id):
            return (answer,)
        if check.id in state.known:
            if lets_run(check) and not _closes(check, outcomes):
                raise CommandRefused(ALWAYS_MADE, "")
            same = not parts and set(outcomes) == set(state.known[check.id].outcomes)
            return () if same else (c.Correct(**now, check=check.id, outcomes=outcomes, parts=parts),)
        tells = c.TellFinding(**now, check=check.id, outcomes=outcomes, parts=parts, by=self._by or self._job.who)
        if self._by:
            return (tells,)
        asks = c.AskFor(**now, check=check.id)
        with suppress(CommandRefused):
            if is_asked(self._job.would(asks), check.id):
                self._job.would(asks, answer)  # nothing is asked for that could not be answered then
                return (asks, answer)
        return (tells,)

    def _parts(self, check_id: str, reading: i.Reading) -> tuple[TypedPart, ...] | None:
        """The parts of a reading, as typed ones are taken; None where something is asked about it, which stays open.

        Raises:
            CommandRefused: it is none, or what is asked about it cannot be asked now.
        """
        line, check = ";".join(reading.pieces), self._job.knowledge.checks[check_id]
        try:
            given = outcomes_or_reading(self._job.knowledge, self._job.state, check, (line,))
        except (QuantityRefused, QuantityUnclear) as error:
            raise CommandRefused(error.message, error.hint) from error
        if not isinstance(given, Ask):
            return given[1]
        if not is_asked(self._job.state, check_id):
            raise CommandRefused(given.question, "Say it again at its own step.")
        self._goes_on = self._at(check_id, line)
        return None

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
