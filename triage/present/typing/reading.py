"""Answers to a check as they are typed: a number, an outcome's name, several of them, or a reading with its parts."""

from triage.errors import QuantityRefused, QuantityUnclear
from triage.knowledge.models import Check, Part, Way
from triage.present.shapes import Choice
from triage.present.typing.choosing import chosen
from triage.present.typing.offering import question, taken
from triage.present.typing.results import Ask
from triage.record.payloads import UsedLayout
from triage.record.readings import TypedPart
from triage.units import KINDS, parse_quantity, say_back

LONGEST_SHOWN = 40
"""Characters of a line that is not understood and said back."""
Given = tuple[tuple[str, ...], tuple[TypedPart, ...]]


def outcomes_or_reading(check: Check, used: UsedLayout | None, lines: tuple[str, ...]) -> Given | Ask:
    """What the lines say about a check.

    A check with a reading takes plain numbers as the reading; its outcomes are then named by word. Where a reading has
    several ways, the first line chooses by its unit.

    Args:
        check: the check.
        used: the layout in use, whose figures can be taken for some parts.
        lines: as typed.

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
    try:
        way = way_meant(check.reading.ways, lines[0])
        typed = [typed_part(part, used, line) for part, line in zip(way.parts, lines, strict=False)]
    except (QuantityRefused, QuantityUnclear) as error:
        hint = f"{error.hint} Or name an answer, such as #1.".strip()
        raise type(error)(error.message, hint) from error
    if len(typed) < len(way.parts):
        return Ask(f"{typed[-1].text}. {question(way.parts[len(typed)], used)}")
    return (), tuple(typed)


def way_meant(ways: tuple[Way, ...], line: str) -> Way:
    """The way whose first part a line is.

    Raises:
        QuantityRefused: the line is the first part of none.
        QuantityUnclear: it may be that of several, or has two meanings.
    """
    if len(ways) == 1:
        return ways[0]
    said = line.strip()[:LONGEST_SHOWN]
    nouns = [KINDS[way.parts[0].kind].noun for way in ways]
    hint = f"Type the unit too, such as {' or '.join(KINDS[way.parts[0].kind].usual for way in ways)}."
    fits, unclear = [], None
    for way in ways:
        try:
            parse_quantity(line, way.parts[0].kind)
            fits.append(way)
        except QuantityUnclear as error:
            unclear = error
        except QuantityRefused:
            continue
    if len(fits) == 1:
        return fits[0]
    if fits:
        raise QuantityUnclear(f"Is “{said}” {' or '.join(nouns)}?", hint)
    raise unclear or QuantityRefused(f"“{said}” is neither {' nor '.join(nouns)}.", hint)


def typed_part(part: Part, used: UsedLayout | None, line: str) -> TypedPart:
    """A part as a line gives it: taken from the layout in use, or typed.

    Raises:
        QuantityRefused: it is no quantity of the part's kind.
        QuantityUnclear: it has two meanings.
    """
    from_layout = taken(part, used, line)
    if from_layout:
        return from_layout
    quantity = parse_quantity(line, part.kind)
    return TypedPart(part=part.id, value=quantity.value, spread=quantity.spread, text=say_back(quantity))


def _several(check: Check, choices: tuple[Choice, ...], line: str) -> tuple[str, ...]:
    words = line.replace(",", " ").split()
    if check.several and len(words) > 1 and all(word.isdecimal() for word in words):
        return tuple(chosen(choices, word) for word in words)
    return (chosen(choices, line),)
