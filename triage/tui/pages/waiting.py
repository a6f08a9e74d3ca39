"""Work that takes long: how far it is, and a key that stops it."""

from textual.binding import Binding

from triage.app.drive_runs import Outcome
from triage.app.long_work import LongWork
from triage.tui.pages.page_screen import Page, PageScreen

LOOK_S = 0.2
KEYS = "Enter stops it"
_BAR = 40


class Waiting(PageScreen[LongWork[Outcome] | None]):
    """Closes by itself when the work has ended, with the work; without it where it was stopped."""

    BINDINGS = [Binding("escape", "stop", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = ("Stopping loses nothing: the step on screen waits where it is.",)

    def __init__(self, words: str, work: LongWork[Outcome]) -> None:
        """Watch some work.

        Args:
            words: what is being worked out.
            work: it, under way.
        """
        super().__init__()
        self._words = words
        self._work = work

    def on_mount(self) -> None:
        """Show how far it is."""
        self.show(Page(f"Working out {self._words}", keys=KEYS))
        self.set_interval(LOOK_S, self._look)

    def on_unmount(self) -> None:
        """Stop it, whatever closed this screen."""
        self._work.stop()

    def lines(self, width: int) -> tuple[str, ...]:
        """A bar, and the share in figures."""
        cells = max(min(_BAR, width - len(" 100 % done")), 0)
        share = self._work.share
        return (f"{'#' * int(share * cells):.<{cells}} {share:.0%} done",)

    def _look(self) -> None:
        if self._work.wait(0):
            self.dismiss(self._work)
        else:
            self._paint()

    def action_stop(self) -> None:
        """Stop the work and go back."""
        self.dismiss(None)

    def take(self, typed: str) -> None:  # noqa: ARG002 - whatever is typed stops it
        """Stop the work and go back."""
        self.dismiss(None)
