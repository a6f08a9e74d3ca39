"""What a recorded case asks of a technician: lines confirmed, engine starts, minutes with every change-over.

Counted are lines, never cards: every line pressed, every name or word, every reading that proves dead, and every start
between tries. A case goes on from its conclusion through repair and proof with normal results, as a sound job would.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeGuard

from triage.app.respondent import Asked, Respondent
from triage.knowledge.models import Knowledge
from triage.knowledge.rounds import TRACKING
from triage.reasoning.advice.changeover import ARRIVED, Minutes, Standing, standing_after
from triage.record import events as e
from triage.record.steps import Step
from triage.session import commands as c
from triage.session.deciding import decide
from triage.session.evolving import fold
from triage.session.state import State

SECOND_MS = 1000
MOST_COMMANDS = 2000


@dataclass(frozen=True)
class Counts:
    """What was asked.

    Args:
        confirmations: to the conclusion.
        confirmations_job: with repair and proof.
        engine_starts: to the conclusion.
        minutes_with_changes: of the checks to the conclusion, with every change-over and set-up [min].
    """

    confirmations: int
    confirmations_job: int
    engine_starts: int
    minutes_with_changes: float


def confirmations(events: Iterable[e.Event]) -> int:
    """How many lines were answered: a line with two readings is two."""
    return sum(max(1, len(event.proof)) for event in events if isinstance(event, e.ThingConfirmed))


def engine_starts(events: Iterable[e.Event]) -> int:
    """How often the engine was started."""
    entered = sum(isinstance(event, e.StateEntered) and event.engine == "running" for event in events)
    return entered + sum(isinstance(event, e.RunStarted) for event in events)


def minutes_with_changes(knowledge: Knowledge, events: Iterable[e.Event]) -> float:
    """Minutes of the checks that were made, each from where the one before left the vehicle [min]."""
    minutes, spent = Minutes(), 0.0
    at: Standing = ARRIVED
    for go in goes(events):
        checks = [knowledge.checks[check] for check in go]
        place = _isolated_too(knowledge, checks[0].state, at, takes_voltage=any(one.takes_voltage for one in checks))
        checks = [one.model_copy(update={"state": place}) for one in checks]
        spent += minutes.of_go(knowledge, checks, at)
        at = standing_after(knowledge, checks[-1], at)
    return round(spent, 3)


def minutes_of_checks(knowledge: Knowledge, events: Iterable[e.Event]) -> float:
    """Minutes of the checks that were made, without any change-over [min]."""
    made = ([knowledge.checks[check] for check in go] for go in goes(events))
    return round(sum(Minutes().of_round(knowledge, checks) for checks in made), 3)


def goes(events: Iterable[e.Event]) -> list[list[str]]:
    """The checks that were made, those of one round in one go.

    What a run needs is set up before it starts, so that the look which the session asks for in a run, before anything
    loads the belt, belongs to what is made in that run.
    """
    made: list[list[str]] = []
    step, begun, watched = Step(kind="gate"), "", False
    for event in events:
        if isinstance(event, e.StepOffered):
            step = event.step
        elif isinstance(event, e.EngineOff) or (isinstance(event, e.StateEntered) and event.engine == "running"):
            begun, watched = "", False
        if not _found(event):
            continue
        looks = event.check == TRACKING and not step.round
        if watched or (begun and (looks or step.round == begun)):
            made[-1].append(event.check)
        else:
            made.append([event.check])
        begun, watched = begun if looks else step.round, looks and not begun
    return made


def _found(event: e.Event) -> TypeGuard[e.CheckAnswered | e.ReadingTaken]:
    return isinstance(event, e.CheckAnswered) or (isinstance(event, e.ReadingTaken) and bool(event.outcome))


def _isolated_too(knowledge: Knowledge, state: str, at: Standing, *, takes_voltage: bool) -> str:
    """Where a check is made that nobody reconnects a battery for."""
    place = knowledge.states.get(state)
    if place is None or takes_voltage or at.battery != "isolated" or place.engine == "running":
        return state
    same = (
        one.id
        for one in knowledge.states.values()
        if (one.engine, one.belt, one.battery) == ("stopped", place.belt, "isolated")
    )
    return next(same, state)


def rest_of_job(knowledge: Knowledge, state: State) -> tuple[e.Event, ...]:
    """What happens from a conclusion on to a signed-off job, where every tool is there and all comes out normal."""
    happened: tuple[e.Event, ...] = ()
    sound, at_ms = _Sound(), state.clock_ms
    for _ in range(MOST_COMMANDS):
        command = sound.answer(knowledge, state, at_ms + SECOND_MS)
        if command is None:
            break
        at_ms = command.at_ms
        # Another technician would have joined, and be asked what everyone near was asked.
        command = command.model_copy(update={"boot": state.boot, "clock_ms": at_ms, "who": state.holder})
        events = decide(knowledge, state, command)
        state, happened = fold(events, state), (*happened, *events)
    return happened


class _Sound(Respondent):
    """A technician who has it all at hand, and whose repair has cured it."""

    def to_conclusion(self, asked: Asked) -> c.Command | None:
        return super().to_conclusion(asked) if asked.state.concluded and asked.state.concluded.causes else None
