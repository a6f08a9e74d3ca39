"""Practice on the full screen: which complaint and how hard, then the exercise, question by question."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.binding import Binding

from triage.errors import TriageError
from triage.present.practising.said import LEVEL_WORDS, MARK
from triage.tui.pages.page_screen import Page, PageScreen, Way

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge
    from triage.present.practising.dialogue import PracticeDialogue

Begin = Callable[["Knowledge", str, int], "tuple[PracticeDialogue, Callable[[], None]]"]
"""Begins an exercise for a complaint, "" for any, and a level; also gives what closes its record."""
KEYS = "Type it, Enter · leave: back"


class PracticeScreen(PageScreen[None]):
    """An exercise; nothing of it is a job."""

    BINDINGS = [Binding("escape", "leave", show=False)]  # noqa: RUF012 - as the base class has it
    ABOUT = (
        "A made-up vehicle with a hidden fault, or none. Ask for checks in your own words or by number;",
        "judge what is shown; conclude, put right, prove. Then you are told what was hidden and how it went.",
        "Touch no vehicle meanwhile: nothing here is made safe.",
    )

    def __init__(self, knowledge: "Knowledge", begin: Begin) -> None:
        """Ask for complaint and level first.

        Args:
            knowledge: the complaints.
            begin: begins an exercise.
        """
        super().__init__()
        self._knowledge = knowledge
        self._begin = begin
        self._symptom: str | None = None
        self._dialogue: PracticeDialogue | None = None
        self._close: Callable[[], None] = lambda: None

    def on_mount(self) -> None:
        """Ask which complaint."""
        self._put()

    def on_unmount(self) -> None:
        """Write no more, whatever closed this screen."""
        self._close()

    def action_leave(self) -> None:
        """Leave the exercise."""
        self.take("leave")

    def take(self, typed: str) -> None:
        """Take the answer to the question on screen."""
        if self._dialogue is not None:
            self._answer(self._dialogue, typed)
            return
        if not typed or typed.lower() in ("leave", "q"):
            self.dismiss()
            return
        goal = self._asked().way(typed)
        if goal is None:
            self.say("Type one of the numbers.")
        elif self._symptom is None:
            self._symptom = goal
            self._put()
        else:
            self._start(int(goal))

    def _start(self, level: int) -> None:
        try:
            self._dialogue, self._close = self._begin(self._knowledge, self._symptom or "", level)
        except TriageError as error:
            self.say(f"{error.message} {error.hint}".strip())
            return
        self._put()

    def _answer(self, dialogue: "PracticeDialogue", typed: str) -> None:
        try:
            said = dialogue.take(typed)
        except TriageError as error:
            self.say(f"{error.message} {error.hint}".strip())
            return
        if dialogue.over:
            self.dismiss()
        else:
            self._put(said)

    def _put(self, said: tuple[str, ...] = ()) -> None:
        if self._dialogue is None:
            self.show(self._asked())
            return
        view = self._dialogue.view
        lines = (*said, *([""] if said else []), *view.lines)
        numbered = tuple(f"  {number}  {choice.words}" for number, choice in enumerate(view.choices, 1))
        # Several numbers are typed with Enter; a single one is one key.
        ways = () if view.many else tuple(Way(choice.words, choice.id) for choice in view.choices)
        shown = (*lines, *(numbered if view.many else ()), "", view.ask)
        self.show(Page(view.title, shown, ways, view.keys))

    def _asked(self) -> Page[str]:
        if self._symptom is None:
            ways = (Way("Any complaint", ""), *(Way(tree.name, one) for one, tree in self._knowledge.trees.items()))
            return Page(MARK, ("Which complaint?",), ways, KEYS)
        levels = tuple(Way(words, str(number)) for number, words in enumerate(LEVEL_WORDS, 1))
        return Page(MARK, ("How hard?",), levels, KEYS)
