"""What was checked, in order: one step for each answer, with its event, its place and what it came to."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from triage.knowledge.models import Knowledge, VehicleState
from triage.present.said.entries import said
from triage.record import events as e
from triage.session.evolving import evolve
from triage.session.state import State

ANSWERS = (e.CheckAnswered, e.ReadingTaken, e.CheckNotDone, e.FindingTold)
Answer = e.CheckAnswered | e.ReadingTaken | e.CheckNotDone | e.FindingTold


@dataclass(frozen=True)
class CheckedStep:
    """One answer to a check.

    Args:
        number: of its event in the trace, from 1.
        at_ms: when, by the wall clock [ms].
        check: the check.
        place: how the vehicle stood: running, belt off, isolated, standing, or asked.
        words: what it came to.
        minutes: what the check takes by the knowledge [min].
        normal: whether it is what a sound vehicle shows.
        round: the round that it was a line of.
        proving: whether it was made after the repair.
        done: whether it was made at all.
        told: whether somebody only told of it.
    """

    number: int
    at_ms: int
    check: str
    place: str
    words: str
    minutes: float
    normal: bool
    round: str
    proving: bool
    done: bool
    told: bool


def course_of(knowledge: Knowledge, events: Sequence[e.Event]) -> tuple[CheckedStep, ...]:
    """Every answer, those that were taken back later among them."""
    return tuple(_steps(knowledge, events))


def _steps(knowledge: Knowledge, events: Sequence[e.Event]) -> Iterator[CheckedStep]:
    state = State()
    for number, event in enumerate(events, 1):
        before, state = state, evolve(state, event)
        if not isinstance(event, ANSWERS) or event.check not in knowledge.checks:
            continue
        if isinstance(event, e.ReadingTaken) and not event.outcome:
            continue
        check = knowledge.checks[event.check]
        outcomes = _outcomes(event)
        place = before.step.state or check.state
        yield CheckedStep(
            number,
            event.at_ms,
            check.id,
            place_word(knowledge.states.get(place)),
            said(knowledge, event).words.removeprefix(f"{check.name}: "),
            check.minutes,
            outcomes == (check.normal(before.pulley),),
            before.step.round if before.step.kind == "round" or before.step.round else "",
            bool(getattr(event, "proving", False)),
            not isinstance(event, e.CheckNotDone),
            isinstance(event, e.FindingTold),
        )


def _outcomes(event: Answer) -> tuple[str, ...]:
    if isinstance(event, e.ReadingTaken):
        return (event.outcome,)
    return () if isinstance(event, e.CheckNotDone) else event.outcomes


def place_word(place: VehicleState | None) -> str:
    """How the vehicle stands, in a word or two."""
    if place is None:
        return "asked"
    if place.engine == "running":
        return "running" if place.belt == "fitted" else "no belt"
    if place.battery == "isolated":
        return "isolated"
    return "belt off" if place.belt == "removed" else "standing"
