"""What needs no session, asked line by line: the bay's arithmetic, a layout's drive."""

from collections.abc import Callable

from textual.binding import Binding

from triage.errors import TriageError
from triage.present.typing.results import Ask
from triage.present.typing.without_session import Lines
from triage.tui.pages.page_screen import Page, PageScreen
from triage.tui.pages.reader import Reader

KEYS = "Type it, Enter · Enter alone: back"


class Working(PageScreen[None]):
    """Asks until a page can be shown; then begins anew."""

    BINDINGS = [Binding("escape", "dismiss", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = ("Nothing here is recorded; in a session the same word works it out beside the step.",)

    def __init__(self, word: str, work: Callable[[tuple[str, ...]], Ask | Lines]) -> None:
        """Ask the first question.

        Args:
            word: the word that opens this, its heading.
            work: gives the next question, or the page, for the lines so far.
        """
        super().__init__()
        self._word = word
        self._work = work
        self._typed: tuple[str, ...] = ()
        self._by_line = False

    def on_mount(self) -> None:
        """Show the first question."""
        self._ask()

    def take(self, typed: str) -> None:
        """Take the answer to the question on screen; an empty line goes back to the first one, and from there out.

        Where many lines are typed one after the other it goes back by one.
        """
        if not typed and not self._typed:
            self.dismiss()
            return
        before = self._typed
        self._typed = (*before, typed) if typed else before[:-1] if self._by_line else ()
        try:
            self._ask()
        except TriageError as error:
            self._typed = before
            self.say(f"{error.message} {error.hint}".strip())

    def _ask(self) -> None:
        came = self._work(self._typed)
        if isinstance(came, Ask):
            self._by_line = came.by_line
            self.show(Page(self._word, tuple(came.question.splitlines()), keys=KEYS))
            return
        self._typed = ()
        self._ask()
        self.app.push_screen(Reader(self._word, came))
