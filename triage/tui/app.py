"""The app: paints at once, reads the knowledge in a worker, then hands over to the start screen."""

from collections.abc import Callable

from textual.app import App, ComposeResult
from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Static

from triage.errors import TriageError
from triage.tui.desk import Desk
from triage.tui.theme import WORKBENCH


class Welcome(Screen[None]):
    """What is seen until the knowledge has been read."""

    def compose(self) -> ComposeResult:
        """Lay one sentence out."""
        yield Static("triage\n\nReading what the trade knows …", id="welcome", markup=False)


class TriageApp(App[str]):
    """The full-screen face."""

    CSS_PATH = "face.tcss"
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012 - as the base class has it
    BINDINGS = [Binding("ctrl+z", "suspend_process", show=False), Binding("f1", "help", show=False)]  # noqa: RUF012 - as the base class has it

    def __init__(self, desk: Desk) -> None:
        """Take what is given from outside.

        Attributes:
            failure: what ended the program, for the one error boundary of the command line.
        """
        super().__init__()
        self._desk = desk
        self.failure: Exception | None = None

    def get_default_screen(self) -> Screen[None]:
        """Begin with one sentence; it needs nothing that is slow to load."""
        return Welcome()

    def on_mount(self) -> None:
        """Take our colours, and read the knowledge away from the screen."""
        self.register_theme(WORKBENCH)
        self.theme = WORKBENCH.name
        self.run_worker(self._load, thread=True)

    def _load(self) -> None:
        try:
            knowledge = self._desk.load()
            matcher = self._desk.matcher(knowledge)
        except TriageError as error:
            self.call_from_thread(self._fail, error)
            return
        from triage.tui.start import StartScreen  # the one late import: it brings everything that is slow to load

        self.call_from_thread(self._go_to, lambda: StartScreen(self._desk, knowledge, matcher))

    def _go_to(self, screen: Callable[[], Screen[None]]) -> None:
        self.push_screen(screen())

    async def action_quit(self) -> None:
        """Stop; where a session is not saved, that is said first, and a copy offered."""
        if not any(screen.holds_back() for screen in self.screen_stack if hasattr(screen, "holds_back")):
            self.exit()

    def action_help(self) -> None:
        """Open the help of the screen in front, where it has one."""
        lines = getattr(self.screen, "help_lines", None)
        if lines:
            from triage.tui.reader import Reader  # late, as above

            self.push_screen(Reader("Help", lines))

    def _fail(self, error: Exception) -> None:
        self.failure = error
        self.exit(return_code=1)

    def _handle_exception(self, error: Exception) -> None:
        """Leave the screen in order; the toolkit would print every local variable, names and notes among them."""
        self.failure = error
        if self.is_headless:
            super()._handle_exception(error)
        else:
            self.exit(return_code=1)
