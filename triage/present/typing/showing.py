"""A page that was asked for, with what the session is to keep of it, so that a mentor sees what was to be read."""

from triage.app.asking import reading_of
from triage.knowledge.models import Knowledge
from triage.present.pages.any_moment import PAGES
from triage.present.typing.results import Show
from triage.session.state import State


def shown(knowledge: Knowledge, state: State, word: str, at_ms: int) -> Show:
    """A page, with the advice to record where it shows some that is not in the trace yet."""
    reading = reading_of(knowledge, state, word, at_ms)
    return Show(tuple(PAGES[word](knowledge, reading.state)), reading.record)
