"""The tree browser."""

from textual.binding import Binding

from triage.knowledge.models import Knowledge
from triage.tui.pages.browsing import TREES, Spot, page_at
from triage.tui.pages.page_screen import PageScreen


class Browser(PageScreen[None]):
    """Walks the knowledge; Enter alone goes one place back."""

    BINDINGS = [Binding("escape", "dismiss", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = (
        "The shipped trees, to learn from or to check. Nothing is recorded.",
        "A number goes where it says; words search checks, causes and remedies.",
    )

    def __init__(self, knowledge: Knowledge) -> None:
        """Begin at the list of trees."""
        super().__init__()
        self._knowledge = knowledge
        self._visited: tuple[Spot, ...] = (TREES,)

    def on_mount(self) -> None:
        """Show the list of trees."""
        self._show()

    def _show(self) -> None:
        self.show(page_at(self._knowledge, self._visited[-1]))

    def take(self, typed: str) -> None:
        """Go where a number leads, search for words, or go back."""
        goal = page_at(self._knowledge, self._visited[-1]).way(typed)
        if goal:
            self._visited = (*self._visited, goal)
        elif typed.isdecimal():
            self.say("There is no such number on this page.")
            return
        elif typed:
            self._visited = (*self._visited, Spot("search", typed))
        elif len(self._visited) > 1:
            self._visited = self._visited[:-1]
        else:
            self.dismiss()
            return
        self._show()
