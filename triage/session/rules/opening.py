"""Before anything else: the start of a session, and the question that turns vehicles away."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.rules.asking import expect_step, may_be_empty, words
from triage.session.state import State

RULES = 2
"""Version of the safety rules: what ends a confirmation, and by which clock. docs/safety.md names the versions."""
GATE_ANSWERS = ("none", "starter-generator", "hybrid", "high-voltage", "dont-know")
"""What the drive may carry; only "none" goes on."""


def start(knowledge: Knowledge, state: State, command: c.Start) -> tuple[e.Event, ...]:
    """Open the session."""
    if state.events:
        raise CommandRefused("This session has been started already.", "Go on with it, or start another.")
    if command.symptom not in knowledge.trees:
        known = ", ".join(knowledge.trees)
        raise CommandRefused(f'There is no tree for "{command.symptom}".', f"Known symptoms: {known}.")
    started = e.SessionStarted(
        **command.stamp_of(words(command.who, "The name")),
        rules=RULES,
        symptom=command.symptom,
        job=words(command.job, "The job reference"),
        words=may_be_empty(command.words, "The complaint"),
        accuracies=command.accuracies,
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
    answered = command.as_event(e.GateAnswered)
    if command.answer == "none":
        return (answered,)
    turned = e.SessionClosed(**command.stamp, how="turned-away", reason=command.answer, not_proved=(), head="")
    return (answered, turned)
