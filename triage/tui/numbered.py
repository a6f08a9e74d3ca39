"""Text with numbered answers: numbers look like keys, hazards and the question stand out."""

import re
from collections.abc import Iterator

from textual.content import Content, Span
from textual.widgets import Static

from triage.present.cleaning import clean

_PATTERNS = (
    ("numbered--hazard", re.compile(r"^  ! .*(?:\n    .*)*", re.MULTILINE)),
    ("numbered--key", re.compile(r"^ [ #\d]\d (?= )", re.MULTILINE)),
)


class Numbered(Static):
    """Folded lines, as `triage.present.text.wrapped` makes them."""

    COMPONENT_CLASSES = {"numbered--key", "numbered--hazard", "numbered--question"}  # noqa: RUF012 - as the base class

    def show(self, text: str, question: str = "") -> None:
        """Show a text.

        Args:
            text: folded lines.
            question: those of them that are the question.
        """
        self.update(Content(clean(text), spans=[*self._spans(clean(text), clean(question))]))

    def _spans(self, text: str, question: str) -> Iterator[Span]:
        for name, pattern in _PATTERNS:
            yield from (Span(*found.span(), self.get_visual_style(name)) for found in pattern.finditer(text))
        begin = text.find(question) if question else -1
        if begin >= 0:
            yield Span(begin, begin + len(question), self.get_visual_style("numbered--question"))
