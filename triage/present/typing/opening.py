"""What is asked before a session: which symptom, the complaint, which job, who.

Free words lead to symptoms that they may mean, as numbered answers; a person picks one of them, or none.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from triage.app.opening import Opening
from triage.app.sentences import split_of, symptoms_said
from triage.errors import CommandRefused, TriageError
from triage.present.shapes import Choice
from triage.present.typing.choosing import chosen
from triage.session.lengths import too_long

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from triage.knowledge.models import Knowledge, Tree
    from triage.knowledge.wording.matching import Match

WELL = 0.6
"""From memory: the score of a complaint that names the noise and one thing about it."""
ASKED = "What does the drive do? Say it in the customer's words, or give a number."
MAY_MEAN = "These words may mean:"
NOTHING_FITS = "Nothing in the list fits these words. Say what is noticed, where and when, or give a number."
BACK = "Enter: none of these"
SPLIT = "split"
"""Name of the question that splits a complaint."""
YES = ("y", "yes")
NEEDED = "A few characters are needed here."


@dataclass(frozen=True)
class Question:
    """One question before a session.

    Args:
        name: of what it asks for.
        ask: the question in short, in front of what is typed.
        remark: what to know about it.
        lines: what to read first.
        choices: answers by number.
    """

    name: str
    ask: str
    remark: str = ""
    lines: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()


_TEXTS = (
    Question("words", "The complaint in the customer's own words", "Enter alone leaves it open"),
    Question("job", "Job reference", "No owner's name, no number plate"),
    Question("who", "Your name", "Every answer carries it"),
)
_OPTIONAL = "words"


class OpeningDialogue:
    """Asks one question after the other, whatever the face.

    Attributes:
        question: what is asked now.
        symptom: the symptom, once it was picked.
        proposed_for: the words whose proposals are on screen; empty where none are.
    """

    def __init__(self, knowledge: "Knowledge", match: "Callable[[str], Sequence[Match]]") -> None:
        """Begin with the symptom.

        Args:
            knowledge: the trees.
            match: finds the symptoms that words may mean.
        """
        self._knowledge = knowledge
        self._trees = knowledge.trees
        self._match = match
        self._symptoms = Question("symptom", "Words or number", lines=(ASKED,), choices=listed(knowledge.trees))
        self._given: dict[str, str] = {}
        self.question = self._symptoms
        self.symptom = self.proposed_for = ""

    @property
    def opening(self) -> Opening | None:
        """What the session starts with, once everything was asked."""
        return Opening(symptom=self.symptom, **self._given) if len(self._given) == len(_TEXTS) else None

    def back(self) -> bool:
        """Choose the symptom anew; False where that is what is asked."""
        if self.question == self._symptoms:
            return False
        self.question, self.symptom, self.proposed_for, self._given = self._symptoms, "", "", {}
        return True

    def take(self, line: str) -> str:
        """Take the answer to the question; why it was not taken, or nothing."""
        typed = line.strip()
        reason = too_long(typed)
        if reason:
            return reason
        if not self.symptom:
            return self._symptom(typed)
        if not typed and self.question.name != _OPTIONAL:
            return NEEDED
        self._given[self.question.name] = typed
        self._ask()
        return ""

    def _symptom(self, typed: str) -> str:
        if not typed:
            return "" if self.back() else NEEDED
        try:
            picked = "1" if agreed(len(self.question.choices), typed) and self.proposed_for else typed
            self.symptom = chosen(self.question.choices, picked)
        except CommandRefused:
            if typed.isdecimal():
                return f"Type a number from 1 to {len(self.question.choices)}, or words."
            return self._propose(typed)
        if self.proposed_for:
            self._given["words"] = self.proposed_for
        self._ask()
        return ""

    def _propose(self, words: str) -> str:
        # What was too vague by itself goes on in the answer to the question that splits it.
        words = f"{self.proposed_for}; {words}" if self.question.name == SPLIT else words
        try:
            matches = symptoms_said(self._knowledge, words, self._match(words))
        except TriageError as error:
            return f"{error.message} {error.hint}".strip()
        if not matches:
            return self._split(words)
        ask = "y or 1" if len(matches) == 1 else "Number"
        lines, choices = (f"“{words}”", MAY_MEAN), proposals(self._trees, matches)
        self.question = Question("proposal", ask, BACK, lines, choices)
        self.proposed_for = words
        return ""

    def _split(self, words: str) -> str:
        """Ask what splits a complaint that says too little; else say that nothing fits.

        What is on screen then stays there: the number typed next means what it meant before.
        """
        split = split_of(words)
        if split is None:
            return NOTHING_FITS
        choices = tuple(Choice(one, said) for one, said in split.answers.items() if one in self._trees)
        self.question = Question(SPLIT, "Number, or more words", BACK, (f"“{words}”", split.ask), choices)
        self.proposed_for = words
        return ""

    def _ask(self) -> None:
        left = (question for question in _TEXTS if question.name not in self._given)
        self.question = next(left, self.question)


def listed(trees: "Mapping[str, Tree]") -> tuple[Choice, ...]:
    """Every symptom that there is a tree for."""
    return tuple(Choice(symptom, tree.name) for symptom, tree in trees.items())


def proposals(trees: "Mapping[str, Tree]", matches: "Iterable[Match]") -> tuple[Choice, ...]:
    """The matches with how well each fits, the best first."""
    return tuple(Choice(match.symptom, f"{trees[match.symptom].name} ({fit_words(match.score)})") for match in matches)


def agreed(offered: int, typed: str) -> bool:
    """Whether a yes was typed to a single proposal.

    >>> agreed(1, " Yes "), agreed(2, "y")
    (True, False)
    """
    return offered == 1 and typed.strip().lower() in YES


def fit_words(score: float) -> str:
    """How well words fit a symptom; a score orders symptoms and is no probability, so no figure is shown.

    >>> fit_words(0.65), fit_words(0.52)
    ('fits well', 'fits in part')
    """
    return "fits well" if score >= WELL else "fits in part"
