"""What is asked before a session: which symptom, the complaint, which job, who."""

from typing import TYPE_CHECKING

from textual.binding import Binding

from triage.app.opening import Opening
from triage.errors import TriageError
from triage.present.shapes import Choice
from triage.present.typing.opening import ASKED, MAY_MEAN, NOTHING_FITS, agreed, listed, proposals
from triage.tui.answer_line import AnswerLine
from triage.tui.pages.page_screen import Page, PageScreen, Way

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge
    from triage.knowledge.wording.matching import Matcher
    from triage.tui.once import Once

_QUESTIONS = (
    ("words", "The complaint in the customer's own words", "Enter alone leaves it open"),
    ("job", "Job reference", "No owner's name, no number plate"),
    ("who", "Your name", "Every answer carries it"),
)
_OPTIONAL = "words"
_TITLE = "New session"
_KEYS = "Esc: back, nothing is saved"


class OpeningScreen(PageScreen[Opening | None]):
    """Asks one question after the other; free words lead to proposals, and a person picks one of them."""

    BINDINGS = [Binding("escape", "back", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = (
        "A session starts with a symptom: say what the customer says, or press the number of one in the list.",
        "Words lead to the symptoms that they may mean. A person picks: nothing is taken for granted.",
        "Then come the job's reference and your name. The session is saved from its first answer on.",
    )

    def __init__(self, knowledge: "Knowledge", matcher: "Once[Matcher]") -> None:
        """Begin with the symptom."""
        super().__init__()
        self._knowledge = knowledge
        self._matcher = matcher
        self._symptoms = self._page((ASKED,), listed(knowledge.trees), f"Number or words · {_KEYS}")
        self._offered = self._symptoms
        self._proposed_for = ""
        self._symptom = ""
        self._given: dict[str, str] = {}

    def on_mount(self) -> None:
        """Show the symptoms."""
        self.show(self._symptoms)

    def action_back(self) -> None:
        """Choose the symptom anew; from there, go back to the start."""
        if not self._symptom and not self._proposed_for:
            self.dismiss(None)
            return
        self._symptom, self._given = "", {}
        self.query_one(AnswerLine).clear()
        self._put(self._symptoms, "")

    @staticmethod
    def _page(lines: tuple[str, ...], choices: tuple[Choice, ...], keys: str) -> Page[str]:
        return Page(_TITLE, lines, tuple(Way(choice.words, choice.id) for choice in choices), keys)

    def take(self, typed: str) -> None:
        """Take the answer to the question on screen."""
        if not self._symptom:
            self._take_symptom(typed)
            return
        name = self._next[0]
        if not typed and name != _OPTIONAL:
            self.say("A few characters are needed here.")
            return
        self._given[name] = typed
        self._ask()

    def _take_symptom(self, typed: str) -> None:
        yes = bool(self._proposed_for) and agreed(len(self._offered.ways), typed)
        self._symptom = self._offered.way("1" if yes else typed) or ""
        if self._symptom:
            if self._proposed_for:
                self._given["words"] = self._proposed_for
            self._ask()
        elif not typed:
            self._put(self._symptoms, "")
        elif typed.isdecimal():
            self.say(f"Type a number from 1 to {len(self._offered.ways)}, or words.")
        else:
            self._propose(typed)

    def _propose(self, words: str) -> None:
        try:
            matches = self._matcher.get().match(words)
        except TriageError as error:
            self.say(f"{error.message} {error.hint}".strip())
            return
        if matches:
            lines = (f"“{words}”", MAY_MEAN)
            yes = "y: it is that · " if len(matches) == 1 else ""
            keys = f"{yes}Enter: none of these · {_KEYS}"
            self._put(self._page(lines, proposals(self._knowledge.trees, matches), keys), words)
        else:
            # What is on screen stays there: the number typed next means what it meant before.
            self.say(NOTHING_FITS)

    def _put(self, page: Page[str], words: str) -> None:
        self._offered, self._proposed_for = page, words
        self.show(page)

    @property
    def _next(self) -> tuple[str, str, str]:
        return next(question for question in _QUESTIONS if question[0] not in self._given)

    def _ask(self) -> None:
        if len(self._given) == len(_QUESTIONS):
            self.dismiss(Opening(symptom=self._symptom, **self._given))
            return
        _, question, remark = self._next
        title = f"{_TITLE} · {self._knowledge.trees[self._symptom].name}"
        self.show(Page(title, (question, f"  {remark}"), keys=_KEYS))
