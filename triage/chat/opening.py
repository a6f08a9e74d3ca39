"""Before a session: which symptom, which job, who."""

from triage.app.opening import Opening
from triage.chat.lines import Lines
from triage.knowledge.models import Knowledge
from triage.knowledge.wording.matching import Matcher
from triage.present.cleaning import clean
from triage.present.typing.opening import OpeningDialogue, Question

PRACTICE = "practice"


class PracticeAskedError(Exception):
    """A made-up vehicle is wanted, and no session."""


def ask_opening(knowledge: Knowledge, matcher: Matcher, lines: Lines) -> Opening:
    """Ask for what a session starts with; free words lead to proposals, and a person picks one of them.

    Raises:
        InputEndedError: the input ended first; nothing was saved.
        PracticeAskedError: a made-up vehicle is wanted instead.
    """
    dialogue = OpeningDialogue(knowledge, matcher.match)
    shown: Question | None = None
    while True:
        question, shown = dialogue.question, _shown(dialogue.question, shown, lines)
        remark = f" ({question.remark})" if question.remark else ""
        line = lines.read(f"{question.ask}{remark}: ", lambda: False) or ""
        if not dialogue.symptom and line.strip().lower() == PRACTICE:
            raise PracticeAskedError
        refused = dialogue.take(line)
        if refused:
            lines.say(refused)
        if dialogue.opening:
            return dialogue.opening


def _shown(question: Question, before: Question | None, lines: Lines) -> Question:
    """Say what is to be read for a question, once."""
    if question != before:
        for line in question.lines:
            lines.say(clean(line))
        for number, choice in enumerate(question.choices, 1):
            lines.say(clean(f"  {number}  {choice.words}"))
    return question
