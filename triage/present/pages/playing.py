"""A saved session played again: each step as it was shown, and what came of it."""

from collections.abc import Iterator, Sequence

from triage.knowledge.models import Knowledge
from triage.present.pages.session_page import said_lines
from triage.present.steps.views import step_view
from triage.present.text import view_lines
from triage.record.events import Event, StepOffered
from triage.session.evolving import evolve
from triage.session.state import State

WIDTH = 79


def scenes(knowledge: Knowledge, events: Sequence[Event], width: int = WIDTH) -> Iterator[list[str]]:
    """What was said since the step before, then the step on lines of `width`; one scene for each step."""
    state = State()
    lines: list[str] = []
    for event in events:
        state = evolve(state, event)
        if isinstance(event, StepOffered):
            yield [*lines, "", *view_lines(step_view(knowledge, state), width)]
            lines = []
        else:
            lines += said_lines(knowledge, event)
    if lines:
        yield lines
