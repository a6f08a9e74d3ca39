"""The walk over the events of a trace: each judged by those before it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from triage.knowledge.groups import LASTING_S
from triage.record import events as e
from triage.session.audit.ledger import ENDING, Ledger, lasts_ms
from triage.session.audit.naming import Names
from triage.session.audit.order import answers, misplaced
from triage.session.audit.standing import unfounded
from triage.session.audit.timing import Clocks


@dataclass(frozen=True)
class Objection:
    """Why this program could not have written a line.

    Args:
        line: its number in the trace, from 1.
        reason: a sentence that names the line.
    """

    line: int
    reason: str


def objections(events: Sequence[e.Event]) -> Iterator[Objection]:
    """Name what this program could not have written, line by line; nothing for a trace that it wrote.

    A step may stand only while every thing that its vehicle state lists was last said to be so, nothing has ended it,
    and time is within its limits by the clock that only goes forward, in one start of it. Which version of the safety
    rules counts, the first line says. Advice and wording are not judged.

    Args:
        events: the whole trace, in order; its knowledge passed `triage.knowledge.holds_together`.
    """
    if not events or not isinstance(events[0], e.SessionStarted):
        yield Objection(1, "Line 1 is no start of a session.")
        return
    start = events[0]
    walk = _Walk(start)
    for line, event in enumerate(events, 1):
        if isinstance(event, e.NotUnderstood):
            what = f'holds "{event.what}" in version {event.of_version}, which this program does not know'
            yield Objection(line, f"Line {line} {what}: what follows cannot be judged.")
            return
        # Texts of the trace stand in a reason: whatever is in them, it stays one line.
        yield from (Objection(line, f"Line {line} {' '.join(reason.split())}.") for reason in walk.judge(event))
        if start.symptom not in start.knowledge.trees:
            return


class _Walk:
    """One walk: names, clocks and the account so far."""

    def __init__(self, start: e.SessionStarted) -> None:
        self._names = Names(start.knowledge)
        self._clocks = Clocks()
        self._ledger = Ledger(start.knowledge, start.rules)

    def judge(self, event: e.Event) -> Iterator[str]:
        """Say what is wrong with the next event, then take it into account."""
        strange = list(self._strange(event))
        if strange:
            # What it would mean cannot be told.
            yield from strange
            return
        if self._ledger.last and event.boot != self._ledger.last.boot:
            self._ledger.take_up(event)
        yield from self._outlived(event)
        yield from misplaced(self._ledger, event)
        yield from self._clocks.judge(event)
        # A card stays until every line of it is pressed, a round until it is offered anew.
        line = self._ledger.step is not None and self._ledger.step.kind == "round"
        pressed = line or (isinstance(event, e.ThingConfirmed) and self._ledger.grouped)
        answered = answers(self._ledger, event) and not pressed
        if not isinstance(event, e.SessionStarted) or self._ledger.last is None:
            self._ledger.take(event)
        if answered:
            self._ledger.step = None
        if isinstance(event, e.RulesInstalled):
            self._names = Names(self._ledger.knowledge)
        if isinstance(event, e.StepOffered):
            yield from (f"asks for something {reason}" for reason in unfounded(self._ledger, event.step))

    def _strange(self, event: e.Event) -> Iterator[str]:
        return (f"names {name}, which its knowledge does not hold" for name in self._names.strangers(event))

    def _outlived(self, event: e.Event) -> Iterator[str]:
        """What time has ended must be said to have ended before anything else."""
        ledger = self._ledger
        if isinstance(event, ENDING) or not (ledger.account.standing if ledger.grouped else ledger.live):
            return
        ended = self._ended(event)
        if ended:
            yield f"comes after {ended}, and what was confirmed before still stands"
            ledger.end()

    def _ended(self, event: e.Event) -> str:
        ledger, last = self._ledger, self._ledger.last
        if last and event.clock_ms < last.clock_ms:
            return "the clock was set back"
        if ledger.run == "running" and event.clock_ms >= ledger.until_ms:
            return "the time of a run is up"
        if ledger.grouped:
            return self._too_long(event)
        lives = ledger.knowledge.states[ledger.live].lives
        lives_ms = lasts_ms(lives.text) if lives else 0
        if any(event.clock_ms - at_ms >= lives_ms for at_ms in ledger.since.values()):
            return "a confirmation is too old"
        return ""

    def _too_long(self, event: e.Event) -> str:
        ledger = self._ledger
        inside = ledger.knowledge.states.get(ledger.account.inside)
        longest_s = min(
            LASTING_S["running"], lasts_ms(inside.longest.text) / 1000 if inside and inside.longest else 1e9
        )
        if ledger.run in ("running", "overdue"):
            return ""
        since_ms = ledger.last.clock_ms if ledger.last else event.clock_ms
        return ledger.account.outlived(event.clock_ms, since_ms, running=ledger.running, longest_s=longest_s)
