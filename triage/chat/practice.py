"""Practice in the plain chat: shows the view, takes lines until the exercise is over."""

import shutil

from triage.chat.lines import InputEndedError, Lines
from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.practising.dialogue import PracticeDialogue
from triage.present.practising.said import LEVEL_WORDS, MARK
from triage.present.practising.typed import numbers
from triage.present.practising.views import PracticeView
from triage.present.text import wrapped

WIDEST = 88
PROMPT = "PRACTICE > "


def practise(dialogue: PracticeDialogue, lines: Lines) -> None:
    """Go through an exercise; where the input ends, it is left."""
    shown: PracticeView | None = None
    while not dialogue.over:
        view = dialogue.view
        if view != shown:
            _say(lines, "", *_whole(view))
            shown = view
        try:
            line = lines.read(PROMPT, lambda: False) or ""
        except InputEndedError:
            line = "leave"
        _say(lines, *dialogue.take(line))


def ask_vehicle(knowledge: Knowledge, lines: Lines) -> tuple[str, int]:
    """Ask which complaint, "" for any, and how hard.

    Raises:
        InputEndedError: the input ended first.
    """
    symptoms = ("", *knowledge.trees)
    names = ("Any complaint", *(tree.name for tree in knowledge.trees.values()))
    symptom = symptoms[_picked(lines, "Which complaint?", names)]
    return symptom, 1 + _picked(lines, "How hard?", LEVEL_WORDS)


def _picked(lines: Lines, ask: str, names: tuple[str, ...]) -> int:
    _say(lines, "", MARK, ask, *(f"  {number}  {name}" for number, name in enumerate(names, 1)))
    while True:
        try:
            (place, *_) = numbers(lines.read(PROMPT, lambda: False) or "", len(names))
        except CommandRefused as refused:
            _say(lines, refused.message, refused.hint)
        else:
            return place


def _whole(view: PracticeView) -> tuple[str, ...]:
    choices = tuple(f"  {number}  {choice.words}" for number, choice in enumerate(view.choices, 1))
    return (view.title, *view.lines, *choices, view.ask, *((f"({view.keys})",) if view.keys else ()))


def _say(lines: Lines, *texts: str) -> None:
    width = min(shutil.get_terminal_size().columns, WIDEST) - 1
    for text in texts:
        for line in wrapped(text, width) if text else [""]:
            lines.say(clean_line(line))
