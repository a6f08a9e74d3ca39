"""What a face says at once about what has just happened."""

from collections.abc import Iterable

from triage.knowledge.models import Knowledge
from triage.present.said.entries import said
from triage.record import events as e

TIME_PASSED = "Time has passed: the step has changed. Nothing that was answered is lost."
DROPPED = "Dropped. Answer the step on screen."


def told(knowledge: Knowledge, happened: Iterable[e.Event]) -> list[str]:
    """A reading with its verdict, a state entered, what was written down, a layout, a rate, checks that pay no more."""
    return [line for event in happened for line in said(knowledge, event).aloud]
