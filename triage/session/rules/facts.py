"""The facts of the vehicle: told when they are asked for, and put right at any moment after."""

from typing import Final

from triage.errors import CommandRefused
from triage.knowledge.models import PULLEY_TYPES, Knowledge
from triage.knowledge.vehicle import FACTS, LATER_FACTS, WORDS, is_word_of
from triage.knowledge.walk import fits
from triage.record import events as e
from triage.session import commands as c
from triage.session.evolving import evolve
from triage.session.rules.finding import corrected
from triage.session.state import State

MOST: Final = {"cylinders": 16, "belts": 4}
"""More than this and it was mistyped. From memory."""
TOLD_AT: Final = ("fact", "confirm", "held", "set-up", "blocked", "check", "round", "conclusion")
"""Kinds of steps at which a fact may be told that is not asked yet; none beside a running engine."""
FARTHEST_M = 5e9
"""Five million kilometres: beyond this an odometer was mistyped. From memory."""


def tell(_knowledge: Knowledge, state: State, command: c.TellFact) -> tuple[e.Event, ...]:
    """Write down the fact of the vehicle that is asked for, or one that is asked later, before its time."""
    if command.fact not in FACTS:
        raise CommandRefused("That is not a fact this program keeps.", f"It keeps: {', '.join(FACTS)}.")
    early = command.fact in LATER_FACTS and state.stage == "finding" and state.step.kind in TOLD_AT
    early = early and state.condition.engine == "stopped"
    if command.fact in state.facts or (state.step.fact != command.fact and not early):
        raise CommandRefused("That is not what is asked now.", "Answer the step on screen first.")
    _expect_plausible(command.fact, command.value)
    return (command.as_event(e.FactTold),)


def correct(knowledge: Knowledge, state: State, command: c.CorrectFact) -> tuple[e.Event, ...]:
    """Put another value in the place of a fact that was told.

    The path is walked anew. Findings of checks that the vehicle cannot have are taken back. A repair that was begun
    stands as it is: its parts may be in hands by now.
    """
    if command.fact not in state.facts:
        raise CommandRefused("That was not told yet.", "Answer the step on screen first.")
    before = state.facts[command.fact]
    if command.value == before:
        raise CommandRefused("That is what was told before.", "Nothing has changed.")
    _expect_plausible(command.fact, command.value)
    _expect_after_renewals(knowledge, state, command)
    told = command.as_event(e.FactCorrected, before=before, repairing=state.stage != "finding")
    stale = [e.FindingTakenBack(**command.stamp, check=check) for check in _senseless(knowledge, evolve(state, told))]
    return (*corrected(state, command), told, *stale)


def _senseless(knowledge: Knowledge, state: State) -> list[str]:
    """The findings of checks that make no sense on the vehicle as it is told now."""
    found = {"finding": state.findings, "proving": state.after}.get(state.stage, {})
    return [check for check in found if not fits(knowledge, check, state.vehicle)]


def _expect_after_renewals(knowledge: Knowledge, state: State, command: c.CorrectFact) -> None:
    if command.fact != "odometer" or not isinstance(command.value, float):
        return
    names = {part.id: part.name for remedy in knowledge.remedies.values() for part in remedy.parts}
    for part, at_m in state.renewed_at_m.items():
        if at_m > command.value:
            message = f"The odometer would be behind a renewal that was told: {names.get(part, part)}."
            raise CommandRefused(message, 'Put that right first: "part age".')


def _expect_plausible(fact: str, value: str | float | None) -> None:
    if not _plausible(fact, value):
        raise CommandRefused("That value cannot be.", "Check it, or say that it is not known.")


def _plausible(fact: str, value: str | float | None) -> bool:
    if value is None:
        return True
    if fact == "pulley":
        return value in PULLEY_TYPES
    if fact in WORDS:
        return isinstance(value, str) and is_word_of(fact, value)
    if isinstance(value, str):
        return False
    if fact in MOST:
        return value == int(value) and 1 <= value <= MOST[fact]
    return 0 <= value <= FARTHEST_M
