"""Before a session: which symptom, which job, who."""

from triage.app.opening import Opening
from triage.chat.lines import Lines
from triage.knowledge.models import Knowledge
from triage.knowledge.wording.matching import Matcher
from triage.present.cleaning import clean
from triage.present.typing.opening import OpeningDialogue, Question


def ask_opening(knowledge: Knowledge, matcher: Matcher, lines: Lines) -> Opening:
    """Ask for what a session starts with; free words lead to proposals, and a person picks one of them.

    Raises:
        InputEndedError: the input ended first; nothing was saved.
    """
    dialogue = OpeningDialogue(knowledge, matcher.match)
    shown: Question | None = None
    while True:
        question, shown = dialogue.question, _shown(dialogue.question, shown, lines)
        remark = f" ({question.remark})" if question.remark else ""
        refused = dialogue.take(lines.read(f"{question.ask}{remark}: ", lambda: False) or "")
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
