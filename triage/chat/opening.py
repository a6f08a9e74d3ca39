"""Before a session: which symptom, which job, who."""

from triage.app.job import Opening
from triage.chat.lines import Lines
from triage.errors import TriageError
from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean
from triage.present.reading import chosen
from triage.present.views import Choice


def ask_opening(knowledge: Knowledge, lines: Lines) -> Opening:
    """Ask for what a session starts with.

    Raises:
        InputEndedError: the input ended first; nothing was saved.
    """
    choices = tuple(Choice(symptom, tree.name) for symptom, tree in knowledge.trees.items())
    lines.say("What does the drive do?")
    for number, choice in enumerate(choices, 1):
        lines.say(clean(f"  {number}  {choice.words}"))
    symptom = _until_chosen(choices, lines)
    words = _line(lines, "The complaint in the customer's own words (Enter leaves it open)", needed=False)
    job = _line(lines, "Job reference (no owner's name, no number plate)", needed=True)
    who = _line(lines, "Your name", needed=True)
    return Opening(symptom=symptom, job=job, who=who, words=words)


def ask_name(lines: Lines) -> str:
    """Ask who is there."""
    return _line(lines, "Your name", needed=True)


def _until_chosen(choices: tuple[Choice, ...], lines: Lines) -> str:
    while True:
        try:
            return chosen(choices, _line(lines, "Number", needed=True))
        except TriageError as error:
            lines.say(str(error))


def _line(lines: Lines, question: str, *, needed: bool) -> str:
    while True:
        line = (lines.read(f"{question}: ", lambda: False) or "").strip()
        if line or not needed:
            return line
        lines.say("A few characters are needed here.")
