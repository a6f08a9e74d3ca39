"""Long texts: a page to read and close, and a saved session played step by step."""

from collections.abc import Callable, Iterator

from textual.binding import Binding

from triage.tui.page_screen import Page, PageScreen


class Reader(PageScreen[None]):
    """A page to read."""

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

    def __init__(self, title: str, scenes: Iterator[list[str]]) -> None:
        """Begin at the first step."""
        super().__init__()
        self._title = title
        self._scenes = enumerate(scenes, 1)

    def on_mount(self) -> None:
        """Show the first step."""
        self.take("")

    def take(self, typed: str) -> None:
        """Go on, or stop."""
        number, scene = next(self._scenes, (0, []))
        if typed.lower() in ("q", "stop", "leave") or not number:
            self.dismiss()
            return
        self.show(Page(f"{self._title} · scene {number}", tuple(scene), keys="Enter goes on · q stops"))
