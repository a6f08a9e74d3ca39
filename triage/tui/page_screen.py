"""A page with numbered ways on: start, tree browser, questions before a session, long texts."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from triage.present.cleaning import clean, clean_line
from triage.tui.answer_line import AnswerLine

Goal = TypeVar("Goal", covariant=True)
Result = TypeVar("Result")


@dataclass(frozen=True)
class Way(Generic[Goal]):
    """One numbered way on."""

    words: str
    goal: Goal


@dataclass(frozen=True)
class Page(Generic[Goal]):
    """What is shown at once.

    Args:
        title: its heading.
        lines: what to read.
        ways: where it goes on, by number.
        keys: what can be typed besides a number.
    """

    title: str
    lines: tuple[str, ...] = ()
    ways: tuple[Way[Goal], ...] = ()
    keys: str = ""

    def way(self, typed: str) -> Goal | None:
        """The goal of the way that a typed number names, or None."""
        named = typed.isascii() and typed.isdecimal() and 1 <= int(typed[:4]) <= len(self.ways)
        return self.ways[int(typed) - 1].goal if named else None


class PageScreen(Screen[Result]):
    """A page, a line to type into, and what can be typed."""

    BINDINGS = [  # noqa: RUF012 - as the base class has it
        Binding("pageup,up", "scroll_page(-1)", show=False),
        Binding("pagedown,down", "scroll_page(1)", show=False),
    ]

    def compose(self) -> ComposeResult:
        """Lay the page out."""
        yield Static(classes="bar", id="page-title", markup=False)
        with VerticalScroll(id="page-body", can_focus=False):
            yield Static(id="page-text", markup=False)
        yield Static(id="page-said", markup=False)
        with Horizontal(classes="typing"):
            yield Static("> ", markup=False)
            yield AnswerLine()
        yield Static(classes="bar", id="page-keys", markup=False)

    def show(self, page: Page[Goal]) -> None:
        """Put a page on screen."""
        ways = [f"{number:3}  {way.words}" for number, way in enumerate(page.ways, 1)]
        self.query_one("#page-title", Static).update(Content(clean_line(page.title)))
        self.query_one("#page-text", Static).update(Content(clean("\n".join([*page.lines, "", *ways]).strip("\n"))))
        self.query_one("#page-keys", Static).update(Content(clean_line(page.keys)))
        self.query_one("#page-body").scroll_home(animate=False)
        self.say("")

    def say(self, text: str) -> None:
        """Say what is wrong with what was typed."""
        self.query_one("#page-said", Static).update(Content(clean(text)))

    def take(self, typed: str) -> None:
        """Take a line that was typed."""
        raise NotImplementedError

    def on_answer_line_given(self, event: AnswerLine.Given) -> None:
        """Hand a line on; one that was typed ahead into a screen that is covered now is dropped."""
        event.stop()
        if self.app.screen is self:
            self.take(event.text.strip())

    def on_answer_line_refused(self, event: AnswerLine.Refused) -> None:
        """Say why a paste was refused."""
        self.say(event.why)

    def action_scroll_page(self, pages: int) -> None:
        """Move through a long page."""
        body = self.query_one("#page-body")
        body.scroll_relative(y=pages * max(1, body.size.height - 1), animate=False)
