"""Long texts: a page to read and close, and a saved session played step by step."""

from collections.abc import Callable, Iterator

from textual.binding import Binding

from triage.tui.pages.page_screen import Page, PageScreen


class Reader(PageScreen[None]):
    """A page to read."""

    HANG = 2
    BINDINGS = [Binding("escape,f1", "dismiss", show=False)]  # noqa: RUF012 - as the base class has it

    def __init__(self, title: str, lines: Callable[[int], tuple[str, ...]]) -> None:
        """Open a page.

        Args:
            title: its heading.
            lines: gives its lines for a width in characters.
        """
        super().__init__()
        self._page: Page[None] = Page(title, keys="Enter goes back · PgUp PgDn turn the page")
        self._lines = lines

    def lines(self, width: int) -> tuple[str, ...]:
        """The page for a width."""
        return self._lines(width)

    def on_mount(self) -> None:
        """Show it."""
        self.show(self._page)

    def take(self, typed: str) -> None:  # noqa: ARG002 - whatever is typed closes the page
        """Close."""
        self.dismiss()


class Player(PageScreen[None]):
    """A saved session, one step at a time."""

    BINDINGS = [Binding("escape", "dismiss", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = ("A saved session as it was lived: each step, and what was answered. Nothing is changed by reading it.",)

    def __init__(self, title: str, scenes: Callable[[int], Iterator[list[str]]]) -> None:
        """Begin at the first step.

        Args:
            title: its heading.
            scenes: gives the scenes for a width in characters.
        """
        super().__init__()
        self._title = title
        self._scenes = scenes
        self._folded: list[list[str]] = []
        self._width = 0
        self._at = 0

    def on_mount(self) -> None:
        """Show the first step."""
        self._put()

    def lines(self, width: int) -> tuple[str, ...]:
        """The scene for a width."""
        if width != self._width:
            self._width, self._folded = width, [*self._scenes(width)]
        return tuple(self._folded[self._at])

    def _put(self) -> None:
        self.show(Page(f"{self._title} · scene {self._at + 1}", keys="Enter goes on · q stops"))

    def take(self, typed: str) -> None:
        """Go on, or stop."""
        self._at += 1
        if typed.lower() in ("q", "stop", "leave") or self._at >= len(self._folded):
            self.dismiss()
            return
        self._put()
