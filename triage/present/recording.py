"""Pages that the session keeps when they are read, so that a mentor sees later what was to be read there."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from triage.app.advice import Asked, advice
from triage.knowledge.models import Knowledge
from triage.present.pages import PAGES
from triage.present.results import Show
from triage.session.deciding import decide
from triage.session.evolving import fold
from triage.session.state import State

ASKED: Final[Mapping[str, Asked]] = MappingProxyType({"likely": "likely", "worth": "worth", "tell": "tell"})


def shown(knowledge: Knowledge, state: State, word: str, at_ms: int) -> Show:
    """A page, with the advice to record where it shows some that is not in the trace yet.

    Args:
        knowledge: what the session uses.
        state: where it stands.
        word: what names the page.
        at_ms: now.
    """
    asked = ASKED.get(word)
    if asked is None or state.stage != "finding" or state.closed or _is_kept(state, asked):
        return Show(tuple(PAGES[word](knowledge, state)))
    command = advice(knowledge, state, at_ms, asked)
    # Looked at as it would read, not as time passes: only the session itself has a clock.
    now = command.model_copy(update={"at_ms": state.last_ms, "clock_ms": state.clock_ms, "boot": state.boot})
    after = fold(decide(knowledge, state, now), state)
    return Show(tuple(PAGES[word](knowledge, after)), command)


def _is_kept(state: State, asked: Asked) -> bool:
    """Whether the last advice says what the page shows; there is nothing to keep of a step without a check."""
    if asked != "tell":
        return state.fresh
    about = state.counsel.about if state.counsel and state.fresh else ""
    return state.step.check in ("", about)
