"""The step on screen, pinned above the line: what to read and do, then the question with its numbered answers."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.css.query import NoMatches
from textual.errors import NoWidget

from triage.present.cleaning import clean_line
from triage.present.shapes import StepView
from triage.present.text import folded
from triage.tui.marked import Marked, Numbers
from triage.tui.one_key import now_s
from triage.tui.session.step_layout import BESIDE_COLUMNS, Asked, Laid, lay, small_rows, too_small
from triage.tui.session.unread import Unread

if TYPE_CHECKING:
    from textual import events

INTERLOCK_KINDS = ("confirm",)
STOP_KINDS = ("blocked", "run-over", "run", "held", "switch-off")
EDGE_COLUMNS = 6
"""Columns of the lower border that its words cannot have."""
LOOKS = 20
"""How often what is in view is looked up again while the layout is still coming."""
_NOTHING = Asked(StepView(title="", ask=""))


class StepPanel(Vertical):
    """One step; what does not fit can be scrolled, question and answers always stay in view."""

    def __init__(self) -> None:
        """Make an empty panel."""
        super().__init__()
        self._asked = _NOTHING
        self._laid = Laid()
        self._unread = Unread()
        self._hint = ""
        self._told_last = False
        self._at_once = False
        self._columns = 0

    def compose(self) -> ComposeResult:
        """Lay out what is read above what is asked."""
        with VerticalScroll(id="reading", can_focus=False):
            yield Marked(id="reading-text", markup=False)
        yield Marked(id="asking", markup=False)

    def on_mount(self) -> None:
        """Look what is in view whenever something else comes into it."""
        self.watch(self.query_one("#reading"), "scroll_y", self.look_soon, init=False)

    def show(self, asked: Asked, *, at_once: bool) -> None:
        """Put a step on screen; time left and what came of the last line stay.

        Args:
            asked: the step.
            at_once: whether one key answers.
        """
        before, view = self._asked, asked.view
        self._asked = replace(asked, left=before.left, mark=before.mark, told=before.told)
        self._at_once = at_once
        self.set_class(asked.kind in INTERLOCK_KINDS, "interlock")
        self.set_class(asked.kind in STOP_KINDS, "stop")
        self.border_title = Content(
            clean_line(f" {f'Question. It waits: {view.title}' if asked.question else view.title} ")
        )
        self.fit()
        if view != before.view:
            self.query_one("#reading", VerticalScroll).scroll_home(animate=False)

    def hint(self, words: str, *, typing: bool) -> None:
        """Say in the border, next to the line, what to press or, while something is typed, what Enter would send."""
        self._told_last = self._told_last and not typing
        self._hint = words
        self._edge()

    def _edge(self) -> None:
        """What to press; or what came of the last line, where there is no row for it and nothing is being typed."""
        told = " · ".join(text for text in (self._asked.mark, *self._asked.told) if text)
        words = told if told and self._told_last and self._laid.crowded else self._hint
        width = max(10, self.outer_size.width - EDGE_COLUMNS)
        shown = words[: width - 1] + "…" if len(words) > width else words
        self.border_subtitle = Content(clean_line(f" {shown} "))

    def count_down(self, left: str) -> None:
        """Show what is left of a timed run; empty where none runs."""
        if left != self._asked.left:
            self._asked = replace(self._asked, left=left)
            self.fit()

    def tell(self, mark: str, lines: tuple[str, ...]) -> None:
        """Say right over the line what came of the last one; a mark comes first, where there is one."""
        self._asked = replace(self._asked, mark=mark, told=lines)
        self._told_last = True
        self.fit()

    def tell_more(self, lines: tuple[str, ...]) -> None:
        """Say further on what came of the last line."""
        self.tell(self._asked.mark, (*self._asked.told, *lines))

    def fit(self) -> None:
        """Lay the step out for the window; what stands beside it gives way where it is short."""
        window = self.screen.size
        if not self.is_mounted or not self.size.width:
            return
        width = self.outer_size.width - BESIDE_COLUMNS
        self._laid = laid = lay(self._asked, width, window.height)
        self.screen.set_class(laid.room == "tight", "-tight")
        self.screen.set_class(laid.room == "small", "-small")
        if laid.room == "small":
            rows = small_rows(self._asked, width, window.width, window.height - 1)
            self._paint(Laid(pinned=tuple(rows)), "")
        else:
            self._paint(laid, "\n".join(folded(self._asked.words.split("\n"), width)))
        place = (self._asked.view, self._asked.question, window, width, laid.room)
        self._unread.expect(place, laid.must)
        self.look_soon()

    def _paint(self, laid: Laid, question: str) -> None:
        area = self.query_one("#reading", VerticalScroll)
        area.styles.height = min(len(laid.reading), laid.free)
        # Left to itself the bar stays once it was there: it folds rows anew, and then there are too many of them.
        area.styles.overflow_y = "scroll" if laid.scrolls else "hidden"
        self._edge()
        numbers: Numbers = "at-once" if self._at_once else "key"
        reading = "\n".join(laid.reading)
        self.query_one("#reading-text", Marked).show(reading, question, "text" if laid.pinned else numbers)
        asking = self.query_one("#asking", Marked)
        asking.display = bool(laid.pinned)
        asking.styles.height = len(laid.pinned)
        asking.show("\n".join(laid.pinned), question, numbers)

    @property
    def too_small(self) -> str:
        """How large the window must be for the step; empty where it is large enough."""
        if self._laid.room != "small":
            return ""
        return too_small(self._asked, self.outer_size.width - BESIDE_COLUMNS, self.screen.size.width)[0]

    def was_read(self, at_s: float) -> bool:
        """Whether title, hazards, question and answers had all been in view for a moment at `at_s` [s]."""
        return self._laid.room != "small" and self._unread.was_read(at_s)

    def look_soon(self) -> None:
        """Look what is in view, once it has been painted."""
        self.call_after_refresh(self._look, LOOKS)

    def _look(self, again: int) -> None:
        if not self.is_attached or not self.screen.is_current:
            return
        rows = self._in_view()
        if rows is None and again:
            self.call_after_refresh(self._look, again - 1)
        elif rows is not None:
            self._unread.saw(rows, now_s())

    def _in_view(self) -> list[str] | None:
        """The rows in view; None while they are not painted where they belong."""
        if self._laid.room == "small":
            return []
        try:
            placed = self.screen.find_widget(self)
            if placed.visible_region != placed.region:
                return None
            parts = [
                _rows_in_view(self.query_one("#reading-text", Marked), self._laid.reading),
                _rows_in_view(self.query_one("#asking", Marked), self._laid.pinned),
            ]
        except (NoMatches, NoWidget):
            return None
        return None if None in parts else [row for part in parts if part for row in part]

    def scroll_reading(self, pages: int) -> None:
        """Move through what does not fit."""
        area = self.query_one("#reading", VerticalScroll)
        area.scroll_relative(y=pages * max(1, area.size.height - 1), animate=False)

    def on_resize(self, event: "events.Resize") -> None:
        """Lay out again for another width; another height is of this panel's own making, or the screen sees to it."""
        if event.size.width != self._columns:
            self._columns = event.size.width
            self.fit()


def _rows_in_view(part: Marked, rows: Sequence[str]) -> list[str] | None:
    if not rows:
        return []
    placed = part.screen.find_widget(part)
    if placed.region.height != len(rows):
        return None
    top = placed.visible_region.y - placed.region.y
    whole = placed.visible_region.width == placed.region.width
    return [*rows[top : top + placed.visible_region.height]] if whole else []
