"""Answers to a check as they are typed: a number, an outcome's name, several of them, or a reading with its parts."""

from dataclasses import dataclass

from triage.errors import CommandRefused, QuantityRefused, QuantityUnclear
from triage.knowledge.models import Check, Knowledge, Part, Reading, Way
from triage.present.shapes import Choice
from triage.present.steps.limits import bare_unit
from triage.present.typing.asking_back import SO, AskedBack, Typed, asked_back, key_or_number
from triage.present.typing.choosing import chosen
from triage.present.typing.offering import question, taken
from triage.present.typing.results import Ask
from triage.record.payloads import UsedLayout
from triage.record.readings import TypedPart
from triage.session.state import State
from triage.units import KINDS, parse_quantity, say_typed

LONGEST_SHOWN = 40
"""Characters of a line that is not understood and said back."""
BETWEEN = ";"
"""Parts the parts of a reading that are typed on one line: a comma may be a decimal one."""
Given = tuple[tuple[str, ...], tuple[TypedPart, ...]]


@dataclass(frozen=True)
class _Taking:
    """A reading on its way: its parts so far, what is asked about the last line, and where that line began."""

    way: Way
    typed: tuple[Typed, ...]
    asked: AskedBack | None
    before: tuple[Typed, ...]


def outcomes_or_reading(knowledge: Knowledge, state: State, check: Check, lines: tuple[str, ...]) -> Given | Ask:
    """What the lines say about a check.

    A check with a reading takes plain numbers as the reading; its outcomes are then named by word, or by # and their
    number. Where a reading has several ways, the first line chooses by its unit. What is asked back is answered by the
    next line, which says "yes" or stands in the place of what was typed.

    Args:
        knowledge: what the session uses.
        state: gives the layout in use, the maker's figures and the readings before.
        check: the check.
        lines: as typed.

    Raises:
        CommandRefused: it is no answer.
        QuantityRefused: it is no reading.
        QuantityUnclear: it has two meanings.
    """
    choices = tuple(Choice(outcome.id, outcome.words) for outcome in check.outcomes)
    if check.reading is None:
        return _several(check, choices, lines[0]), ()
    taking: _Taking | None = None
    for line in lines:
        if taking and taking.asked and taking.asked.may_stand and line.strip().lower() in SO:
            taking = _Taking(taking.way, taking.typed, None, taking.before)
            continue
        before = (taking.before if taking.asked else taking.typed) if taking else ()
        named = "" if before else _named(check.reading, choices, line)
        if named:
            return (named,), ()
        try:
            taking = _taken(knowledge, state, check, before, line)
        except (QuantityRefused, QuantityUnclear) as error:
            raise type(error)(error.message, f"{error.hint} Or name an answer, such as #1.".strip()) from error
    return _given(state, taking) if taking else Ask(check.question)


def _given(state: State, taking: _Taking) -> Given | Ask:
    typed, parts = taking.typed, taking.way.parts
    if taking.asked:
        again = f" All of it again, with {BETWEEN} between." if len(parts) > 1 and taking.asked.whole else ""
        return Ask(f"{taking.asked.question}{again}")
    if len(typed) < len(parts):
        return Ask(f"{typed[-1].part.text}. {question(parts[len(typed)], state.layout)}")
    return (), tuple(one.part for one in typed)


def _named(reading: Reading, choices: tuple[Choice, ...], line: str) -> str:
    """The outcome that a line names by word, or by # and its number; "" where it names none."""
    said = line.strip().lower()
    if said.startswith("#"):
        return chosen(choices, said)
    by_word = next((choice.id for choice in choices if said in (choice.id, choice.words.lower())), "")
    return by_word or reading.words.get(said, "")


def _taken(knowledge: Knowledge, state: State, check: Check, before: tuple[Typed, ...], line: str) -> _Taking:
    """The parts of a reading with those of one more line, and what is asked about them."""
    if check.reading is None:
        raise CommandRefused("This check has no reading.", "Answer with one of its outcomes.")
    pieces = line.split(BETWEEN) if BETWEEN in line else [line]
    way = way_meant(check.reading.ways, before[0].line if before else pieces[0])
    wanted = way.parts[len(before) :]
    if len(pieces) > len(wanted):
        raise QuantityRefused(f"That is more than is asked here: {'; '.join(part.ask for part in wanted)}.", "")
    new = tuple(
        _typed(part, state.layout, piece, bare_unit(check.reading, state, way, part))
        for part, piece in zip(wanted, pieces, strict=False)
    )
    typed = (*before, *new)
    key = key_or_number(check, line, new[0].part.text) if not before and new[0].part.bare else None
    asked = key or asked_back(knowledge, state, check, way, typed, len(new))
    return _Taking(way, typed, asked, () if asked and asked.whole else before)


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


def typed_part(part: Part, used: UsedLayout | None, line: str, bare: str = "") -> TypedPart:
    """A part as a line gives it: taken from the layout in use, or typed.

    Raises:
        QuantityRefused: it is no quantity of the part's kind.
        QuantityUnclear: it has two meanings.
    """
    return _typed(part, used, line, bare).part


def _typed(part: Part, used: UsedLayout | None, line: str, bare: str) -> Typed:
    from_layout = taken(part, used, line)
    if from_layout:
        return Typed(from_layout)
    quantity = parse_quantity(line, part.kind, bare)
    known = TypedPart(
        part=part.id, value=quantity.value, spread=quantity.spread, text=say_typed(quantity), bare=quantity.assumed
    )
    return Typed(known, line, fraction="/" in quantity.figures)


def _several(check: Check, choices: tuple[Choice, ...], line: str) -> tuple[str, ...]:
    words = line.replace(",", " ").split()
    if check.several and len(words) > 1 and all(word.removeprefix("#").isdecimal() for word in words):
        return tuple(chosen(choices, word) for word in words)
    return (chosen(choices, line),)
