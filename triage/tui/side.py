"""The column beside the conversation: the vehicle in words, the path so far, the words to type."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean
from triage.present.commands import WORDS
from triage.present.pages import path_page
from triage.session.state import State

LATEST = 8
"""Findings that are shown; the word "path" shows all."""


def vehicle_words(state: State) -> str:
    """Engine, belt and battery as the session last left them."""
    engine = "running" if state.run == "running" else state.condition.engine
    return f"engine {engine}, belt {state.condition.belt}, battery {state.condition.battery}"


def side_text(knowledge: Knowledge, state: State) -> str:
    """The whole column as text."""
    path = path_page(knowledge, state)
    before = [f"… {len(path) - LATEST} before these: path"] if len(path) > LATEST else []
    entered = state.live.state if state.live and state.live.entered else ""
    confirmed = [f"Confirmed: {knowledge.states[entered].words}"] if entered else ["Nothing is confirmed now."]
    sections = (
        ("VEHICLE", [vehicle_words(state), *confirmed]),
        ("FOUND SO FAR", [*before, *path[-LATEST:]]),
        ("WORDS", [f"{word.name:9} {word.does}" for word in WORDS]),
    )
    return "\n\n".join("\n".join([title, *lines]) for title, lines in sections)


class Side(VerticalScroll, can_focus=False):
    """The column; hidden where the terminal is narrow."""

    def compose(self) -> ComposeResult:
        """Lay out one text."""
        yield Static(id="side-text", markup=False)

    def show(self, knowledge: Knowledge, state: State) -> None:
        """Show where the session stands."""
        self.query_one("#side-text", Static).update(Content(clean(side_text(knowledge, state))))
