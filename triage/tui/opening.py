"""What is asked before a session: which symptom, the complaint, which job, who."""

from textual.binding import Binding

from triage.app.job import Opening
from triage.knowledge.models import Knowledge
from triage.tui.page_screen import Page, PageScreen, Way

_QUESTIONS = (
    ("words", "The complaint in the customer's own words", "Enter alone leaves it open"),
    ("job", "Job reference", "No owner's name, no number plate"),
    ("who", "Your name", "Every answer carries it"),
)
_OPTIONAL = "words"
_KEYS = "Esc goes back; nothing is saved yet"


class OpeningScreen(PageScreen[Opening | None]):
    """Asks one question after the other."""

    BINDINGS = [Binding("escape", "dismiss", show=False)]  # noqa: RUF012 - as the base class has it

    def __init__(self, knowledge: Knowledge) -> None:
        """Begin with the symptom."""
        super().__init__()
        self._symptoms: Page[str] = Page(
            "New session",
            ("What does the drive do?",),
            tuple(Way(tree.name, symptom) for symptom, tree in knowledge.trees.items()),
            _KEYS,
        )
        self._symptom = ""
        self._given: dict[str, str] = {}

    def on_mount(self) -> None:
        """Show the symptoms."""
        self.show(self._symptoms)

    def take(self, typed: str) -> None:
        """Take the answer to the question on screen."""
        if not self._symptom:
            self._symptom = self._symptoms.way(typed) or ""
            if not self._symptom:
                self.say(f"Type a number from 1 to {len(self._symptoms.ways)}.")
                return
        else:
            name = _QUESTIONS[len(self._given)][0]
            if not typed and name != _OPTIONAL:
                self.say("A few characters are needed here.")
                return
            self._given[name] = typed
        self._ask()

    def _ask(self) -> None:
        if len(self._given) == len(_QUESTIONS):
            self.dismiss(Opening(symptom=self._symptom, **self._given))
            return
        _, question, remark = _QUESTIONS[len(self._given)]
        self.show(Page("New session", (question, f"  {remark}"), keys=_KEYS))
