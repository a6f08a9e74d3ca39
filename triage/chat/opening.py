"""Before a session: which symptom, which job, who."""

from triage.app.opening import Opening
from triage.chat.lines import Lines
from triage.errors import CommandRefused, TriageError
from triage.knowledge.models import Knowledge
from triage.knowledge.wording.matching import Matcher
from triage.present.cleaning import clean
from triage.present.shapes import Choice
from triage.present.typing.opening import ASKED, MAY_MEAN, NOTHING_FITS, agreed, listed, proposals
from triage.present.typing.reading import chosen
from triage.session.lengths import too_long


def ask_opening(knowledge: Knowledge, matcher: Matcher, lines: Lines) -> Opening:
    """Ask for what a session starts with; free words lead to proposals, and a person picks one of them.

    Raises:
        InputEndedError: the input ended first; nothing was saved.
    """
    symptom, words = _symptom(knowledge, matcher, lines)
    if not words:
        words = _line(lines, "The complaint in the customer's own words (Enter leaves it open)", needed=False)
    job = _line(lines, "Job reference (no owner's name, no number plate)", needed=True)
    who = _line(lines, "Your name", needed=True)
    return Opening(symptom=symptom, job=job, who=who, words=words)


def _symptom(knowledge: Knowledge, matcher: Matcher, lines: Lines) -> tuple[str, str]:
    """The symptom, and the words that led to it where it was not picked from the list."""
    choices = listed(knowledge.trees)
    lines.say(ASKED)
    _show(choices, lines)
    while True:
        line = _line(lines, "Words or number", needed=True)
        try:
            return chosen(choices, line), ""
        except CommandRefused as error:
            if line.isdecimal():
                lines.say(str(error))
                continue
        picked = _proposed(line, knowledge, matcher, lines)
        if picked:
            return picked, line


def _proposed(words: str, knowledge: Knowledge, matcher: Matcher, lines: Lines) -> str:
    """The proposal that a person picks; empty where none fits."""
    try:
        matches = matcher.match(words)
    except TriageError as error:
        lines.say(str(error))
        return ""
    if not matches:
        lines.say(NOTHING_FITS)
        return ""
    proposed = proposals(knowledge.trees, matches)
    lines.say(MAY_MEAN)
    _show(proposed, lines)
    asked = "Number" if len(proposed) > 1 else "y or 1"
    while True:
        line = _line(lines, f"{asked} (Enter: none of these)", needed=False)
        if not line:
            _show(listed(knowledge.trees), lines)
            return ""
        if agreed(len(proposed), line):
            return proposed[0].id
        try:
            return chosen(proposed, line)
        except CommandRefused as error:
            lines.say(str(error))


def _show(choices: tuple[Choice, ...], lines: Lines) -> None:
    for number, choice in enumerate(choices, 1):
        lines.say(clean(f"  {number}  {choice.words}"))


def _line(lines: Lines, question: str, *, needed: bool) -> str:
    while True:
        line = (lines.read(f"{question}: ", lambda: False) or "").strip()
        reason = too_long(line) or ("" if line or not needed else "A few characters are needed here.")
        if not reason:
            return line
        lines.say(reason)
