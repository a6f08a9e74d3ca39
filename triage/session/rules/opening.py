"""From the complaint to the first check: start, the first question, the facts of the vehicle."""

import math

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.session import commands as c
from triage.session import events as e
from triage.session.readings import AccuracyUsed
from triage.session.rules.asking import expect_step, words
from triage.session.rules.finding import corrected
from triage.session.state import FACTS, State

GATE_ANSWERS = ("none", "starter-generator", "hybrid", "high-voltage", "dont-know")
"""What the drive may carry; only "none" goes on."""
PULLEY_TYPES = ("solid", "isolator", "one-way-clutch", "decoupler")
MOST_CYLINDERS = 16
FARTHEST_M = 5e9
"""Five million kilometres: beyond this an odometer was mistyped. From memory."""


def start(knowledge: Knowledge, state: State, command: c.Start) -> tuple[e.Event, ...]:
    """Open the session."""
    if state.events:
        raise CommandRefused("This session has been started already.", "Go on with it, or start another.")
    if command.symptom not in knowledge.trees:
        known = ", ".join(knowledge.trees)
        raise CommandRefused(f'There is no tree for "{command.symptom}".', f"Known symptoms: {known}.")
    accuracies = {
        tool: AccuracyUsed(relative=used.relative, absolute=used.absolute, source=used.source)
        for tool, used in command.accuracies.items()
    }
    started = e.SessionStarted(
        at_ms=command.at_ms,
        who=words(command.who, "The name"),
        symptom=command.symptom,
        job=words(command.job, "The job reference"),
        words=command.words.strip(),
        accuracies=accuracies,
        reviewer=command.reviewer,
        prices=command.prices,
        weights=command.weights,
        knowledge=command.knowledge,
    )
    return (started,)


def answer_gate(_knowledge: Knowledge, state: State, command: c.AnswerGate) -> tuple[e.Event, ...]:
    """Go on only where nothing on the drive can start or shock by itself."""
    expect_step(state, "gate")
    if command.answer not in GATE_ANSWERS:
        raise CommandRefused("That is not one of the answers.", f"Answer with one of: {', '.join(GATE_ANSWERS)}.")
    answered = e.GateAnswered(at_ms=command.at_ms, who=command.who, answer=command.answer)
    if command.answer == "none":
        return (answered,)
    turned = e.SessionClosed(
        at_ms=command.at_ms, who=command.who, how="turned-away", reason=command.answer, not_proved=(), head=""
    )
    return (answered, turned)


def tell_fact(_knowledge: Knowledge, state: State, command: c.TellFact) -> tuple[e.Event, ...]:
    """Write down a fact of the vehicle, the one asked for or a better one later."""
    if command.fact not in FACTS:
        raise CommandRefused("That is not a fact this program keeps.", f"It keeps: {', '.join(FACTS)}.")
    if state.stage != "finding":
        raise CommandRefused("The facts stand once the repair has begun.", "Write a note instead.")
    if not state.gate or (command.fact not in state.facts and state.step.fact != command.fact):
        raise CommandRefused("That is not what is asked now.", "Answer the step on screen first.")
    if not _plausible(command.fact, command.value):
        raise CommandRefused("That value cannot be.", "Check it, or say that it is not known.")
    told = e.FactTold(at_ms=command.at_ms, who=command.who, fact=command.fact, value=command.value)
    if command.fact in state.facts and state.live:
        return (told, *corrected(state, command))
    return (told,)


def _plausible(fact: str, value: str | float | None) -> bool:
    if value is None:
        return True
    if fact == "pulley":
        return value in PULLEY_TYPES
    if isinstance(value, str) or not math.isfinite(value):
        return False
    if fact == "cylinders":
        return value == int(value) and 1 <= value <= MOST_CYLINDERS
    return 0 <= value <= FARTHEST_M
