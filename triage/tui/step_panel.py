"""The step on screen, pinned above the line: what to read and do, then the question with its numbered answers."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content

from triage.present.cleaning import clean_line
from triage.present.shapes import StepView
from triage.present.text import view_lines, wrapped
from triage.tui.marked import Marked, Numbers, numbered

if TYPE_CHECKING:
    from textual import events

INTERLOCK_KINDS = ("confirm",)
STOP_KINDS = ("blocked", "run-over", "run", "held")
BORDER_ROWS = 2
PADDING_COLUMNS = 4
MOST_TOLD = 3
"""Rows under the answers for what came of the last line."""
READ_ON = "  … read on: PgDn PgUp"
AIRY = 2
"""Answers stand apart by an empty row where the step then still takes no more than one in this many rows."""
_NO_VIEW = StepView(title="", ask="")
_ONLY_READ: dict[str, Any] = {"ask": "", "choices": (), "warnings": ()}


class StepPanel(Vertical):
    """One step; what does not fit can be scrolled, question and answers always stay in view."""

    def __init__(self) -> None:
        """Make an empty panel."""
        super().__init__()
        self._view = _NO_VIEW
        self._question = ""
        self._hint = ""
        self._at_once = False
        self._left = ""
        self._rows = 0
        self._told: tuple[str, tuple[str, ...]] = ("", ())

    def compose(self) -> ComposeResult:
        """Lay out what is read above what is asked."""
        with VerticalScroll(id="reading", can_focus=False):
            yield Marked(id="reading-text", markup=False)
        yield Marked(id="asking", markup=False)

    def show(self, view: StepView, kind: str, question: str, *, at_once: bool) -> None:
        """Put a step on screen.

        Args:
            view: the step.
            kind: its kind, for the border that it gets.
            question: what is asked on top of it; empty where the step itself is to be answered.
            at_once: whether one key answers.
        """
        new = view != self._view
        self._view, self._question, self._at_once = view, question, at_once
        self.set_class(kind in INTERLOCK_KINDS, "interlock")
        self.set_class(kind in STOP_KINDS, "stop")
        self.border_title = Content(clean_line(f" {f'Question. It waits: {view.title}' if question else view.title} "))
        self.fit(self._rows)
        if new:
            self.query_one("#reading", VerticalScroll).scroll_home(animate=False)

    def hint(self, words: str) -> None:
        """Say in the border, next to the line, what to press."""
        if words != self._hint:
            self._hint = words
            self._edge()

    def _edge(self) -> None:
        width = max(10, self.container_size.width - PADDING_COLUMNS - BORDER_ROWS)
        hint = self._hint[: width - 1] + "…" if len(self._hint) > width else self._hint
        self.border_subtitle = Content(clean_line(f" {hint} "))

    def count_down(self, left: str) -> None:
        """Show what is left of a timed run; empty where none runs."""
        if left != self._left:
            self._left = left
            self.fit(self._rows)

    def tell(self, mark: str, lines: tuple[str, ...]) -> None:
        """Say right over the line what came of the last one; a mark comes first, where there is one."""
        self._told = (mark, lines)
        self.fit(self._rows)

    def fit(self, rows: int) -> None:
        """Lay the step out for at most `rows` rows, the border included.

        Hazards, question and answers stay in view; what is read before them scrolls. Where there is no room for that,
        the hazards come first in what scrolls, and where there is not even room for the answers, all of it scrolls.
        """
        self._rows = rows
        if not self.is_mounted or not self.size.width:
            return
        width = self.container_size.width - PADDING_COLUMNS
        most = max(1, rows - BORDER_ROWS)
        reading = [] if self._question else view_lines(replace(self._view, **_ONLY_READ), width)[1:]
        hazards = [line for hazard in self._view.warnings for line in wrapped(hazard, width, "  ! ")]
        asked = self._asked(width, apart="\n\n")
        if len(reading) + len(hazards) + len(asked) > most // AIRY:
            asked = self._asked(width, apart="\n")
        if len(reading) + len(hazards) + len(asked) > most:
            asked = [line for line in asked if line]
        asked = [*asked, *self._told_rows(width)[: max(0, most - len(asked))]]
        pinned = [*hazards, *asked]
        if len(pinned) + bool(reading) > most:
            reading, pinned = [*hazards, *reading], asked
        if len(pinned) >= most:
            reading, pinned = [*reading, *pinned], []
        if len(reading) + len(pinned) > most > len(pinned) + 1:
            pinned = [READ_ON, *pinned]
        self._paint(reading, pinned, max(1, most - len(pinned)))

    def _paint(self, reading: list[str], pinned: list[str], free: int) -> None:
        question = "\n".join(wrapped(self._asks, self.container_size.width - PADDING_COLUMNS))
        area = self.query_one("#reading", VerticalScroll)
        area.styles.height = min(len(reading), free)
        self._edge()
        numbers: Numbers = "at-once" if self._at_once else "key"
        self.query_one("#reading-text", Marked).show("\n".join(reading), question, "text" if pinned else numbers)
        asking = self.query_one("#asking", Marked)
        asking.display = bool(pinned)
        asking.styles.height = len(pinned)
        asking.show("\n".join(pinned), question, numbers)

    def _told_rows(self, width: int) -> list[str]:
        mark, lines = self._told
        rows = wrapped("\n".join(lines), width, f"{mark} · " if mark else "  ") if lines else []
        return rows if len(rows) <= MOST_TOLD else [*rows[: MOST_TOLD - 1], f"{rows[MOST_TOLD - 1]} …"]

    @property
    def _asks(self) -> str:
        return self._question or self._view.ask

    def _asked(self, width: int, apart: str) -> list[str]:
        lines = [self._left] if self._left else []
        lines += ["", *wrapped(self._asks, width)] if self._asks else []
        if self._question:
            return lines
        words = tuple(choice.words for choice in self._view.choices)
        answers = numbered(words, width, "#" if self._view.measured else " ", apart)
        return [*lines, *([""] if apart.count("\n") > 1 and answers else []), *answers]

    def scroll_reading(self, pages: int) -> None:
        """Move through what does not fit."""
        area = self.query_one("#reading", VerticalScroll)
        area.scroll_relative(y=pages * max(1, area.size.height - 1), animate=False)

    def on_resize(self, _event: "events.Resize") -> None:
        """Lay out again."""
        self.fit(self._rows)
