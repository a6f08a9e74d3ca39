"""What was said so far, the newest last; only rows in view are painted, so that a long session stays quick."""

from typing import ClassVar

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from triage.present.cleaning import clean

_TYPED = "conversation--typed"


class Conversation(ScrollView, can_focus=False):
    """The log of a session; it stays at its end until somebody scrolls back."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {_TYPED}

    def __init__(self) -> None:
        """Have nothing said."""
        super().__init__()
        self._messages: list[tuple[Content, bool]] = []
        self._rows: list[tuple[Content, bool]] = []
        self._painted: dict[tuple[int, int], Strip] = {}
        self._columns = 0
        self._follows = True

    def say(self, *texts: str, typed: bool = False) -> None:
        """Add messages.

        Args:
            texts: the messages.
            typed: whether a person typed them.
        """
        messages = [(Content(clean(text)), typed) for text in texts]
        self._messages += messages
        self._lay(messages)
        if messages:
            self.scroll_end(animate=False)

    def _lay(self, messages: list[tuple[Content, bool]]) -> None:
        """Fold messages to rows; there are none before the first layout."""
        if self._columns:
            self._rows += [(row, typed) for message, typed in messages for row in message.wrap(self._columns)]
            self.virtual_size = Size(self._columns, len(self._rows))
            self.refresh()

    def on_resize(self, _event: events.Resize) -> None:
        """Fold everything anew where the width has changed."""
        follows, columns = self._follows, self.scrollable_content_region.width
        if columns != self._columns:
            self._columns, self._rows = columns, []
            self._painted.clear()
            self._lay(self._messages)
        if follows:
            self.scroll_end(animate=False)

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Notice whether the end is in view."""
        super().watch_scroll_y(old_value, new_value)
        self._follows = round(new_value) >= self.max_scroll_y

    def notify_style_update(self) -> None:
        """Paint every row anew in its new colours."""
        self._painted.clear()
        super().notify_style_update()

    def render_line(self, y: int) -> Strip:
        """Paint one row; a row looks the same wherever it stands."""
        at, width = y + round(self.scroll_y), self.size.width
        if at >= len(self._rows):
            return Strip.blank(width, self.rich_style)
        if (at, width) not in self._painted:
            row, typed = self._rows[at]
            style = self.get_visual_style(_TYPED) if typed else self.visual_style
            self._painted[at, width] = Strip(row.render_segments(style)).crop_extend(0, width, self.rich_style)
        return self._painted[at, width]
