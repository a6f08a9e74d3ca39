"""What is asked before a session: which symptom, the complaint, which job, who."""

from typing import TYPE_CHECKING

from textual.binding import Binding

from triage.app.opening import Opening
from triage.present.typing.opening import OpeningDialogue
from triage.tui.answer_line import AnswerLine
from triage.tui.pages.page_screen import Page, PageScreen, Way

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge
    from triage.knowledge.wording.matching import Matcher
    from triage.tui.once import Once

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
        self._trees = knowledge.trees
        self._dialogue = OpeningDialogue(knowledge, lambda words: matcher.get().match(words))

    def on_mount(self) -> None:
        """Show the symptoms."""
        self.show(self._page())

    def action_back(self) -> None:
        """Choose the symptom anew; from there, go back to the start."""
        if not self._dialogue.back():
            self.dismiss(None)
            return
        self.query_one(AnswerLine).clear()
        self.show(self._page())

    def take(self, typed: str) -> None:
        """Take the answer to the question on screen."""
        refused = self._dialogue.take(typed)
        if refused:
            self.say(refused)
        elif self._dialogue.opening:
            self.dismiss(self._dialogue.opening)
        else:
            self.show(self._page())

    def _page(self) -> Page[str]:
        question, symptom = self._dialogue.question, self._dialogue.symptom
        if symptom:
            title = f"{_TITLE} · {self._trees[symptom].name}"
            return Page(title, (question.ask, f"  {question.remark}"), keys=_KEYS)
        yes = "y: it is that · " if self._dialogue.proposed_for and len(question.choices) == 1 else ""
        keys = f"{yes}{question.remark or 'Number or words'} · {_KEYS}"
        ways = tuple(Way(choice.words, choice.id) for choice in question.choices)
        return Page(_TITLE, question.lines, ways, keys)
