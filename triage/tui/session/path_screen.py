"""What was found so far, to read and to put right."""

from textual.binding import Binding

from triage.knowledge.models import Knowledge
from triage.present.pages.any_moment import path_page
from triage.present.steps.findings import say_finding
from triage.session.state import State
from triage.tui.pages.page_screen import Page, PageScreen, Way


class PathScreen(PageScreen[str | None]):
    """Gives the number of the answer that is to be put right, as `amend` counts them, or None."""

    BINDINGS = [Binding("escape", "dismiss", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = ("The answers given so far, in order.", "A number puts that answer right: its question is asked again.")

    def __init__(self, knowledge: Knowledge, state: State) -> None:
        """Show the path of a session."""
        super().__init__()
        proving = state.stage == "proving"
        names = {check: knowledge.checks[check].name for check in state.known}
        ways = tuple(
            Way(f"{names[check]}: {say_finding(knowledge.checks[check], finding)}", str(number))
            for number, (check, finding) in enumerate((state.after if proving else state.findings).items(), 1)
        )
        before = ("Before the repair:", *path_page(knowledge, state), "", "After it:") if proving else ()
        lines = (*before, "Which answer is to be put right?") if ways else tuple(path_page(knowledge, state))
        self._page: Page[str] = Page("Found so far", lines, ways, "Enter: back · a number puts that answer right")

    def on_mount(self) -> None:
        """Show it."""
        self.show(self._page)

    def take(self, typed: str) -> None:
        """Close, with the answer that a number names."""
        goal = self._page.way(typed)
        if typed and goal is None:
            self.say("There is no such number on this page.")
            return
        self.dismiss(goal)
