"""Screens whose parts are slow to load. They are loaded in the background once the start screen stands, or when opened.

The one place of late imports in this face: whatever the start screen imports by itself is paid for before it is seen.
"""

from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.app.reading import Replayed
    from triage.knowledge.models import Knowledge
    from triage.tui.pages.browser import Browser
    from triage.tui.pages.practising import Begin, PracticeScreen
    from triage.tui.pages.reader import Player, Reader
    from triage.tui.pages.working import Working
    from triage.tui.session.session_screen import SessionScreen


def load() -> None:
    """Load what all of them need, and what ranks causes and weighs checks, or the first answer would wait for it."""
    import triage.present.pages.playing
    import triage.present.pages.session_page
    import triage.present.typing.without_session
    import triage.reasoning.advice.worth
    import triage.reasoning.route.routing
    import triage.tui.pages.browser
    import triage.tui.pages.working
    import triage.tui.session.session_screen  # noqa: F401 - to have it


def session(job: "Job", notices: tuple[str, ...]) -> "SessionScreen":
    """The screen of a session; `notices` is what to say about its trace."""
    from triage.tui.session.session_screen import SessionScreen

    return SessionScreen(job, notices)


def browser(knowledge: "Knowledge") -> "Browser":
    """The screen that walks the trees."""
    from triage.tui.pages.browser import Browser

    return Browser(knowledge)


def reader(name: str, saved: "Replayed") -> "Reader":
    """A saved session as a page."""
    from triage.present.pages.session_page import page_of
    from triage.tui.pages.reader import Reader

    lines = tuple(page_of(saved.knowledge, saved.events, str(saved.head), saved.notices).splitlines())
    return Reader(name, lambda _: lines)


def player(name: str, saved: "Replayed") -> "Player":
    """A saved session step by step."""
    from triage.present.pages.playing import scenes
    from triage.tui.pages.reader import Player

    return Player(name, partial(scenes, saved.knowledge, saved.events))


def is_work(word: str) -> bool:
    """Whether a word works something out without a session."""
    from triage.present.typing.without_session import WITHOUT_SESSION

    return word in WITHOUT_SESSION


def practising(knowledge: "Knowledge", begin: "Begin") -> "PracticeScreen":
    """The screen of practice."""
    from triage.tui.pages.practising import PracticeScreen

    return PracticeScreen(knowledge, begin)


def working(word: str, knowledge: "Knowledge") -> "Working":
    """The screen that works out what such a word stands for."""
    from triage.present.typing.without_session import WITHOUT_SESSION
    from triage.tui.pages.working import Working

    return Working(word, partial(WITHOUT_SESSION[word], knowledge))
