"""What a mentor should look at twice: each flag with the event that raised it and a sentence."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from triage.knowledge.models import Knowledge
from triage.present.sheet.course import CheckedStep
from triage.present.steps.oddities import odd_words
from triage.record import events as e
from triage.session.oddities import Oddity, oddities
from triage.session.state import State
from triage.units import parse_quantity

QUARTER = 0.25
"""Share of a round's minutes within which nobody made all of it. From memory."""
FEWEST_LINES = 3
"""Lines of a round from which its haste is told; one alone is told by its check."""
LONG_GAP_MS = 2 * 3_600_000
"""Nothing happened for so long, and nobody said that the vehicle was left. From memory."""


@dataclass(frozen=True)
class Flag:
    """Something odd.

    Args:
        kind: a word for it.
        number: of the event that raised it, from 1.
        words: one sentence.
    """

    kind: str
    number: int
    words: str


def flags_of(
    knowledge: Knowledge, events: Sequence[e.Event], state: State, course: Sequence[CheckedStep]
) -> tuple[Flag, ...]:
    """Every flag, in the order of the events."""
    found = [
        *_of_session(knowledge, events, state),
        *_of_events(knowledge, events),
        *_of_rounds(knowledge, events, course),
        *_of_repeats(knowledge, course, knowledge.trees[state.symptom].repeat),
        *_of_repair(knowledge, events, state),
    ]
    return tuple(sorted(dict.fromkeys(found), key=lambda one: (one.number, one.kind)))


def _of_session(knowledge: Knowledge, events: Sequence[e.Event], state: State) -> Iterator[Flag]:
    """What the session itself says is odd before it is signed off."""
    for odd in oddities(knowledge, state):
        yield Flag(odd.kind, _event_of(events, odd), odd_words(knowledge, state, odd))


def _event_of(events: Sequence[e.Event], odd: Oddity) -> int:
    def is_about(event: e.Event) -> bool:
        if odd.kind == "against":
            return isinstance(event, e.ConclusionReached)
        if odd.kind == "quick":
            return isinstance(event, e.ThingConfirmed) and event.quick
        named = (getattr(event, key, "") for key in ("check", "part", "torque"))
        return isinstance(event, (*_FOUND, e.PartRecorded, e.TorqueRecorded)) and odd.about in named

    return max((number for number, event in enumerate(events, 1) if is_about(event)), default=len(events))


_FOUND = (e.CheckAnswered, e.ReadingTaken)


def _of_events(knowledge: Knowledge, events: Sequence[e.Event]) -> Iterator[Flag]:
    """What one event by itself, or its distance from the one before, tells."""
    before: e.Event | None = None
    confirmed = [number for number, event in enumerate(events, 1) if isinstance(event, e.ThingConfirmed)]
    at_key = {one.name for one in events if isinstance(one, e.ThingConfirmed) and one.name}
    people = at_key | {one.who for one in events if isinstance(one, e.ThingConfirmed)}
    if at_key and len(people) == 1 and not _alone(events):
        words = f"Every line that was confirmed, the key's too, bears one name: {people.pop()}."
        yield Flag("one-name", confirmed[-1], words)
    for number, event in enumerate(events, 1):
        name = getattr(knowledge.checks.get(getattr(event, "check", "")), "name", "")
        if isinstance(event, e.ReadingTaken) and any(part.bare for part in event.parts):
            yield Flag("unit-taken", number, f"{name}: a number without a unit; the one on screen was taken.")
        if isinstance(event, e.FindingTakenBack):
            yield Flag("corrected", number, f"{name} was taken back or corrected.")
        if isinstance(event, e.FactCorrected):
            yield Flag("corrected", number, "A fact of the vehicle was put right.")
        if isinstance(event, e.FindingTold):
            yield Flag("told", number, f"{name}: told by {event.by}, not seen here.")
        if isinstance(event, e.OwnRouteTaken):
            yield Flag("own-route", number, f"{name} was not the tree's next check.")
        if isinstance(event, e.ClockShifted):
            yield Flag("clock", number, f"The clock was set by {round(event.by_ms / 60000)} min.")
        if before and event.at_ms - before.at_ms > LONG_GAP_MS and not isinstance(before, _LEFT):
            yield Flag(
                "gap", number, f"Nothing was written down for {round((event.at_ms - before.at_ms) / 60000)} min."
            )
        before = event if not isinstance(event, e.StepOffered) or not isinstance(before, _LEFT) else before


_LEFT = (e.SessionPaused, e.SessionHandedOver, e.ProofLeftOpen, e.SessionClosed)


def _alone(events: Sequence[e.Event]) -> bool:
    return any(isinstance(event, e.AloneSaid) and event.alone for event in events)


def _of_rounds(knowledge: Knowledge, events: Sequence[e.Event], course: Sequence[CheckedStep]) -> Iterator[Flag]:
    """A round that was answered in less than a quarter of its minutes, from its screen to its last answer."""
    lines: list[CheckedStep] = []
    for step in (*course, None):
        same = step is not None and step.round and not step.told and (not lines or lines[-1].round == step.round)
        if same and step is not None:
            lines.append(step)
            continue
        yield from _hasty(knowledge, events, lines)
        lines = [step] if step is not None and step.round and not step.told else []


def _hasty(knowledge: Knowledge, events: Sequence[e.Event], lines: Sequence[CheckedStep]) -> Iterator[Flag]:
    made = knowledge.rounds.get(lines[0].round) if lines else None
    if made is None or len(lines) < FEWEST_LINES:
        return
    offered = max((one.at_ms for one in events[: lines[0].number - 1] if isinstance(one, e.StepOffered)), default=None)
    began_ms = lines[0].at_ms if offered is None else offered
    took_min = (lines[-1].at_ms - began_ms) / 60_000
    in_one_go = parse_quantity(made.minutes.text, "time").value / 60
    if took_min < QUARTER * min(in_one_go, sum(one.minutes for one in lines)):
        words = f"{made.name}: {len(lines)} lines in {took_min:.1f} min."
        yield Flag("hasty-round", lines[-1].number, words)


def _of_repeats(knowledge: Knowledge, course: Sequence[CheckedStep], repeat: str) -> Iterator[Flag]:
    """The check that is to prove the repair, where it was normal before: it proves nothing."""
    normal = {step.check for step in course if step.normal and not step.proving}
    abnormal = {step.check for step in course if step.done and not step.normal and not step.proving}
    for step in course:
        if step.proving and step.normal and step.check == repeat and step.check in normal - abnormal:
            name = knowledge.checks[step.check].name
            yield Flag("normal-before", step.number, f"{name} was normal before the repair too: it proves nothing.")


def _of_repair(knowledge: Knowledge, events: Sequence[e.Event], state: State) -> Iterator[Flag]:
    """A repair that is not that of what was concluded."""
    causes = state.concluded.causes if state.concluded else ()
    advised = {knowledge.causes[cause].remedy for cause in causes if cause in knowledge.causes}
    for number, event in enumerate(events, 1):
        other = isinstance(event, e.RemedyBegun) and advised and not set(event.remedies) & advised
        if other:
            yield Flag("other-repair", number, "The repair is another than that of what was concluded.")
