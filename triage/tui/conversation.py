"""What was said so far, the newest last. Only the latest stays mounted, so that a long session stays quick."""

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from triage.present.cleaning import clean

WINDOW = 150
"""Messages that stay mounted; the trace on disk has all of them."""


class Conversation(VerticalScroll, can_focus=False):
    """The log of a session."""

    def say(self, *texts: str, typed: bool = False) -> None:
        """Add messages.

        Args:
            texts: the messages.
            typed: whether a person typed them.
        """
        if not texts:
            return
        lines = [Static(Content(clean(text)), classes="typed" if typed else "said", markup=False) for text in texts]
        self.mount_all(lines[-WINDOW:])
        extra = len(self.children) - WINDOW
        if extra > 0:
            self.remove_children(self.children[:extra])
        self.scroll_end(animate=False, immediate=False)
