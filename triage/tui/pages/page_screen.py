"""A page with numbered ways on: start, tree browser, questions before a session, long texts."""

from dataclasses import dataclass
from typing import ClassVar, Generic, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from triage.present.cleaning import clean, clean_line
from triage.present.text import NARROWEST
from triage.tui.answer_line import AnswerLine
from triage.tui.marked import Marked, hung, numbered
from triage.tui.one_key import MOST

Goal = TypeVar("Goal", covariant=True)
Result = TypeVar("Result")
MARGIN_COLUMNS = 4
ROWS_OF_REST = 6
"""Title, what is said, line, keys, and an empty row on both sides of what is read."""


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
        ways: where it goes on, by number; nine or fewer are reached by one key.
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
    """A page, a line to type into, and what can be typed.

    Attributes:
        ABOUT: what the help of this screen says.
        HANG: by how many characters what is folded stands in.
    """

    ABOUT: ClassVar[tuple[str, ...]] = ()
    HANG: ClassVar[int] = 0

    BINDINGS = [  # noqa: RUF012 - as the base class has it
        Binding("pageup,up", "scroll_page(-1)", show=False),
        Binding("pagedown,down", "scroll_page(1)", show=False),
    ]

    def __init__(self) -> None:
        """Have nothing to show yet."""
        super().__init__()
        self._shown: Page[object] = Page("")
        self._time = ""

    def compose(self) -> ComposeResult:
        """Lay the page out."""
        yield Static(classes="bar", id="page-title", markup=False)
        with VerticalScroll(id="page-body", can_focus=False):
            yield Marked(id="page-text", markup=False)
            yield Marked(id="page-ways", markup=False)
        yield Static(id="page-said", markup=False)
        with Horizontal(classes="typing"):
            yield Static("> ", markup=False)
            yield AnswerLine()
        yield Static(classes="bar", id="page-keys", markup=False)

    def show(self, page: Page[object]) -> None:
        """Put a page on screen."""
        self._shown = page
        if not self._is_whole:
            return
        self.query_one("#page-keys", Static).update(Content(clean_line(page.keys)))
        self.query_one("#page-body").scroll_home(animate=False)
        self.say("")
        self._paint()

    @property
    def _is_whole(self) -> bool:
        """Whether every part is there: a page that is closed at once loses them before it has been painted."""
        return len(self.query("#page-keys, #page-said, #page-ways, AnswerLine")) == 4

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002 - any of them
        """Take no key while the page is not whole or not in front."""
        return self._is_whole and self.is_current

    def lines(self, width: int) -> tuple[str, ...]:  # noqa: ARG002 - some pages are made for the width
        """What is to be read, above the ways on."""
        return self._shown.lines

    def _paint(self) -> None:
        if not self._is_whole:
            return
        title = " · ".join(part for part in (self._time, self._shown.title) if part)
        self.query_one("#page-title", Static).update(Content(clean_line(title)))
        width = max(NARROWEST, self.size.width - MARGIN_COLUMNS)
        read = [folded for line in self.lines(width) for folded in hung(line, width, self.HANG)]
        words = tuple(way.words for way in self._shown.ways)
        ways = numbered(words, width, apart="\n\n")
        if len(read) + len(ways) + ROWS_OF_REST > self.size.height:
            ways = numbered(words, width)
        self.query_one("#page-text", Marked).show("\n".join([*read, *([""] if ways else [])]).lstrip("\n"))
        self.query_one("#page-ways", Marked).show("\n".join(ways), numbers="at-once" if len(words) <= MOST else "key")
        self.query_one(AnswerLine).offer(len(self._shown.ways))

    def count_down(self, left: str) -> None:
        """Show what is left of a timed run over the page; empty where none runs."""
        if left != self._time:
            self._time = left
            if self.is_mounted:
                self._paint()

    def help_lines(self, _width: int) -> tuple[str, ...]:
        """The help of this screen, and what can be typed now."""
        return (*self.ABOUT, "", self._shown.keys)

    def on_resize(self, _event: events.Resize) -> None:
        """Fold anew."""
        self.call_after_refresh(self._paint)

    def on_screen_resume(self) -> None:
        """Offer answers anew: nobody saw them behind another screen."""
        if self._is_whole:
            self.query_one(AnswerLine).offer(len(self._shown.ways))

    def say(self, text: str) -> None:
        """Say what is wrong with what was typed."""
        if self._is_whole:
            self.query_one("#page-said", Static).update(Content(clean(text)))

    def take(self, typed: str) -> None:
        """Take a line that was typed."""
        raise NotImplementedError

    def on_answer_line_given(self, event: AnswerLine.Given) -> None:
        """Hand a line on; one that was typed ahead into a screen that is covered now is dropped."""
        event.stop()
        typed = event.text.strip()
        if self.app.screen is not self:
            return
        if typed.lower() == "help":
            self.call_later(self.run_action, "app.help")
        else:
            self.take(typed)
        self.query_one(AnswerLine).offer(len(self._shown.ways))

    def on_answer_line_refused(self, event: AnswerLine.Refused) -> None:
        """Say why a paste was refused."""
        self.say(event.why)

    def action_scroll_page(self, pages: int) -> None:
        """Move through a long page."""
        body = self.query_one("#page-body")
        body.scroll_relative(y=pages * max(1, body.size.height - 1), animate=False)
