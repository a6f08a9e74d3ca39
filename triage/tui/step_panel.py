"""The step on screen, pinned above the line: what to read and do, then the question with its numbered answers."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from triage.present.cleaning import clean, clean_line
from triage.present.text import view_lines, wrapped
from triage.present.views import StepView

if TYPE_CHECKING:
    from textual import events

INTERLOCK_KINDS = ("confirm",)
STOP_KINDS = ("blocked", "run-over", "run", "held")
BORDER_ROWS = 2
PADDING_COLUMNS = 4
_NO_VIEW = StepView(title="", ask="")
_ONLY_READ: dict[str, Any] = {"ask": "", "choices": (), "warnings": ()}
_ONLY_ASKED: dict[str, Any] = {"lines": (), "steps": (), "warnings": (), "facts": (), "vehicle": ""}


class StepPanel(Vertical):
    """One step; what does not fit can be scrolled, question and answers always stay in view."""

    def __init__(self) -> None:
        """Make an empty panel."""
        super().__init__()
        self._view = _NO_VIEW
        self._question = ""
        self._left_s: int | None = None
        self._rows = 0

    def compose(self) -> ComposeResult:
        """Lay out what is read above what is asked."""
        with VerticalScroll(id="reading", can_focus=False):
            yield Static(id="reading-text", markup=False)
        yield Static(id="asking", markup=False)

    def show(self, view: StepView, kind: str, question: str) -> None:
        """Put a step on screen.

        Args:
            view: the step.
            kind: its kind, for the border that it gets.
            question: what is asked on top of it; empty where the step itself is to be answered.
        """
        new = view != self._view
        self._view, self._question = view, question
        self.set_class(kind in INTERLOCK_KINDS, "interlock")
        self.set_class(kind in STOP_KINDS, "stop")
        self.border_title = Content(clean_line(f" {view.title} "))
        self.fit(self._rows)
        if new:
            self.query_one("#reading", VerticalScroll).scroll_home(animate=False)

    def count_down(self, left_s: int | None) -> None:
        """Show the seconds left of a timed run; None where none runs."""
        if left_s != self._left_s:
            self._left_s = left_s
            self.fit(self._rows)

    def fit(self, rows: int) -> None:
        """Lay the step out for at most `rows` rows, the border included.

        Hazards, question and answers stay in view; what is read before them scrolls. Where not even they fit, all of it
        scrolls together.
        """
        self._rows = rows
        if not self.is_mounted or not self.size.width:
            return
        width = self.container_size.width - PADDING_COLUMNS
        room = max(1, rows - BORDER_ROWS)
        reading = view_lines(replace(self._view, **_ONLY_READ), width)[1:]
        asking = self._asking_lines(width)
        if len(reading) + len(asking) > room:
            asking = [line for line in asking if line]
        if len(asking) >= room:
            reading, asking = [*reading, *asking], []
        free = max(1, room - len(asking))
        area = self.query_one("#reading", VerticalScroll)
        area.styles.height = min(len(reading), free)
        self.border_subtitle = Content(clean(" PgDn: more to read " if len(reading) > free else ""))
        self.query_one("#reading-text", Static).update(Content(clean("\n".join(reading))))
        asked = self.query_one("#asking", Static)
        asked.display = bool(asking)
        asked.update(Content(clean("\n".join(asking))))

    def _asking_lines(self, width: int) -> list[str]:
        hazards = [line for hazard in self._view.warnings for line in wrapped(hazard, width, "  ! ")]
        time = [f"TIME LEFT  {self._left_s // 60}:{self._left_s % 60:02d}"] if self._left_s is not None else []
        if self._question:
            asked = wrapped(self._question, width)
            return [*hazards, *time, "", *asked, "  (Enter on an empty line goes back to the step)"]
        return [*hazards, *time, *view_lines(replace(self._view, **_ONLY_ASKED), width)[1:]]

    def scroll_reading(self, pages: int) -> None:
        """Move through what does not fit."""
        area = self.query_one("#reading", VerticalScroll)
        area.scroll_relative(y=pages * max(1, area.size.height - 1), animate=False)

    def on_resize(self, _event: "events.Resize") -> None:
        """Lay out again."""
        self.fit(self._rows)
