"""Text in which some things stand out: numbers look like keys, hazards, the question and headings are marked."""

import re
import textwrap
from collections.abc import Iterator
from typing import Literal

from textual.content import Content, Span
from textual.widgets import Static

from triage.present.cleaning import clean
from triage.present.text import wrapped

Numbers = Literal["text", "key", "at-once"]
_KEY = re.compile(r"^ [ #] ?\d+ (?= )", re.MULTILINE)
_HAZARD = re.compile(r"^  ! .*(?:\n    .*)*", re.MULTILINE)
_TIME = re.compile(r"^TIME LEFT .*$", re.MULTILINE)
_HEADING = re.compile(r"^[A-Z]{2}[A-Z ]*$", re.MULTILINE)


def numbered(words: tuple[str, ...], width: int, sign: str = " ", apart: str = "\n") -> list[str]:
    """Answers as folded lines, each with its number before it.

    Args:
        words: the answers in order.
        width: characters a line.
        sign: what stands before each number.
        apart: what stands between answers; two line feeds for an empty row.
    """
    digits = len(str(len(words)))
    answers = ("\n".join(wrapped(said, width, f" {sign}{at:{digits}}  ")) for at, said in enumerate(words, 1))
    return apart.join(answers).splitlines()


def hung(text: str, width: int, more: int) -> list[str]:
    """A text as lines of at most `width` characters, what is folded indented by `more` than its first line."""
    lines: list[str] = []
    for line in text.splitlines() or [""]:
        lead = " " * (len(line) - len(line.lstrip()) + more)
        lines += [line] if len(line) <= width else textwrap.wrap(line, width, subsequent_indent=lead)
    return lines


def _rows(text: str) -> int:
    """Rows of folded lines; only where they change the screen is laid out anew."""
    return text.count("\n") + 1 if text else 0


class Marked(Static):
    """Folded lines, as `numbered` and `triage.present.text.wrapped` make them."""

    COMPONENT_CLASSES = {  # noqa: RUF012 - as the base class has it
        "marked--at-once",
        "marked--hazard",
        "marked--heading",
        "marked--key",
        "marked--question",
        "marked--time",
    }

    _shown: tuple[str, str, str] | None = None

    def show(self, text: str, question: str = "", numbers: Numbers = "text") -> None:
        """Show a text; one that stands there already costs no new layout.

        Args:
            text: folded lines.
            question: those of them that are the question.
            numbers: whether numbers at the begin of a line name answers, and whether one key gives them.
        """
        before, self._shown = self._shown, (text, question, numbers)
        if before != self._shown:
            moves = before is None or _rows(before[0]) != _rows(text)
            spans = [*self._spans(clean(text), clean(question), numbers)]
            self.update(Content(clean(text), spans=spans), layout=moves)

    def _spans(self, text: str, question: str, numbers: Numbers) -> Iterator[Span]:
        patterns = [("marked--heading", _HEADING), ("marked--hazard", _HAZARD), ("marked--time", _TIME)]
        patterns += [(f"marked--{numbers}", _KEY)] if numbers != "text" else []
        for name, pattern in patterns:
            yield from (Span(*found.span(), self.get_visual_style(name)) for found in pattern.finditer(text))
        begin = text.find(question) if question else -1
        if begin >= 0:
            yield Span(begin, begin + len(question), self.get_visual_style("marked--question"))
