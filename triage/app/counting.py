"""What a recorded case asks of a technician: lines confirmed, engine starts, minutes with every change-over.

Counted are lines, never cards: every line pressed, every name or word, every reading that proves dead, and every start
between tries. A case goes on from its conclusion through repair and proof with normal results, as a sound job would.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from triage.knowledge.models import Knowledge
from triage.reasoning.advice.changeover import ARRIVED, Minutes, Standing, standing_after
from triage.record import events as e
from triage.session import commands as c
from triage.session.state import State

DONE = {"renew": "renewed", "inspect": "found-good", "repair": "repaired"}
TIGHT_NM = 25.0
"""A torque of a job that is only played: any will do."""


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
    minutes, standing, spent = Minutes(), ARRIVED, 0.0
    at: Standing = standing
    for event in events:
        made = isinstance(event, e.CheckAnswered) or (isinstance(event, e.ReadingTaken) and bool(event.outcome))
        if not made:
            continue
        check = knowledge.checks[event.check]  # type: ignore[attr-defined]
        place = _isolated_too(knowledge, check.state, at, takes_voltage=check.takes_voltage)
        check = check.model_copy(update={"state": place})
        spent += minutes.of(knowledge, check, at)
        at = standing_after(knowledge, check, at)
    return round(spent, 3)


def _isolated_too(knowledge: Knowledge, state: str, at: Standing, *, takes_voltage: bool) -> str:
    """Where a check is made that nobody reconnects a battery for."""
    place = knowledge.states.get(state)
    if place is None or takes_voltage or at.battery != "isolated" or place.engine == "running":
        return state
    same = (one.id for one in knowledge.states.values() if (one.engine, one.belt, one.battery) == ("stopped", place.belt, "isolated"))
    return next(same, state)


def after_the_conclusion(knowledge: Knowledge, state: State, at_ms: int, who: str) -> c.Command | None:
    """What a sound job does with the step on screen once it is concluded; None where it has come to its end."""
    step = state.step
    if step.kind == "conclusion" and state.concluded and state.concluded.causes:
        return c.BeginRemedy(at_ms=at_ms, who=who)
    if step.kind == "part":
        parts = (part for remedy in state.remedies for part in knowledge.remedies[remedy].parts)
        todo = next(part.todo for part in parts if part.id == step.part)
        return c.RecordPart(at_ms=at_ms, who=who, part=step.part, done=DONE[todo])
    if step.kind == "torque":
        given = {"value_nm": TIGHT_NM, "text": "25 N·m", "wrench": "of the shop", "reference": "maker"}
        return c.RecordTorque(at_ms=at_ms, who=who, torque=step.torque, **given)  # type: ignore[arg-type]
    if step.kind == "blocked":
        return c.PutRight(at_ms=at_ms, who=who, check=step.check, done="put right")
    return None
