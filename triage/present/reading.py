"""Answers to a check as they are typed: a number, an outcome's name, several of them, or a reading with its parts."""

from triage.errors import CommandRefused, QuantityRefused, QuantityUnclear
from triage.knowledge.models import Check
from triage.present.results import Ask
from triage.present.views import Choice
from triage.session.commands import Typed
from triage.units import parse_quantity, say_back

Given = tuple[tuple[str, ...], tuple[Typed, ...]]


def chosen(choices: tuple[Choice, ...], line: str) -> str:
    """The id of the choice that a line names by number or by id.

    Raises:
        CommandRefused: it names none.
    """
    said = line.strip().lower()
    if said.isascii() and said.isdecimal() and 1 <= int(said[:4]) <= len(choices):
        return choices[int(said) - 1].id
    by_id = next((choice.id for choice in choices if said in (choice.id, choice.words.lower())), None)
    if by_id is None:
        raise CommandRefused("That is not one of the answers.", f"Type a number from 1 to {len(choices)}.")
    return by_id


def outcomes_or_reading(check: Check, lines: tuple[str, ...]) -> Given | Ask:
    """What the lines say about a check.

    A check with a reading takes plain numbers as the reading; its outcomes are then named by word.

    Raises:
        CommandRefused: it is no answer.
        QuantityRefused: it is no reading.
        QuantityUnclear: it has two meanings.
    """
    choices = tuple(Choice(outcome.id, outcome.words) for outcome in check.outcomes)
    if check.reading is None:
        return _several(check, choices, lines[0]), ()
    said = lines[0].strip().lower()
    spoken = check.reading.words.get(said)
    named = next((choice.id for choice in choices if said in (choice.id, choice.words.lower())), spoken)
    if said.startswith("#"):
        named = chosen(choices, said[1:])
    if named:
        return (named,), ()
    typed: list[Typed] = []
    for part, line in zip(check.reading.parts, lines, strict=False):
        try:
            quantity = parse_quantity(line, part.kind)
        except (QuantityRefused, QuantityUnclear) as error:
            hint = f"{error.hint} Or name an answer, such as #1.".strip()
            raise type(error)(error.message, hint) from error
        typed.append(Typed(part.id, quantity.value, quantity.spread, say_back(quantity)))
    if len(typed) < len(check.reading.parts):
        return Ask(check.reading.parts[len(typed)].ask)
    return (), tuple(typed)


def _several(check: Check, choices: tuple[Choice, ...], line: str) -> tuple[str, ...]:
    words = line.replace(",", " ").split()
    if check.several and len(words) > 1 and all(word.isdecimal() for word in words):
        return tuple(chosen(choices, word) for word in words)
    return (chosen(choices, line),)
