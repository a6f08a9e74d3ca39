"""The facts of the vehicle as they are typed and said: told when they are asked for, put right at any moment after."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.knowledge.vehicle import LATER_FACTS, SEVERAL, WORDS
from triage.present.said.vehicle import NAMES, Told, fact_words
from triage.present.shapes import Choice
from triage.present.steps.views import fact_view
from triage.present.typing.choosing import chosen
from triage.present.typing.correcting import Stamp, numbered
from triage.present.typing.results import Ask, Result
from triage.session import commands as c
from triage.session.state import State
from triage.units import parse_quantity

UNKNOWN = ("unknown", "not known", "?")


def fact_typed(fact: str, line: str) -> Told:
    """What a line says of a fact; None where it is not known.

    Raises:
        TriageError: it says nothing of it.
    """
    if line.strip().lower() in UNKNOWN:
        return None
    if fact == "pulley":
        told = chosen(fact_view(fact).choices, line)
        return None if told == "unknown" else told
    if fact in WORDS:
        return _words_typed(fact, line)
    return parse_quantity(line, "distance" if fact == "odometer" else "number").value


def _words_typed(fact: str, line: str) -> Told:
    """The word that was picked, or several where the fact may have several.

    Raises:
        CommandRefused: a part of the line is no choice.
    """
    choices = fact_view(fact).choices
    pieces = line.replace(",", " ").split() if fact in SEVERAL else [line]
    if fact in SEVERAL and any(line.strip().lower() == choice.words.lower() for choice in choices):
        pieces = [line]
    told = [chosen(choices, piece) for piece in pieces]
    return None if "unknown" in told else " ".join(dict.fromkeys(told))


def fact_corrected(_knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which fact, then what it really is; one that is asked later may be told now.

    Raises:
        TriageError: a line was not understood, or nothing was told yet.
    """
    facts = tuple(Choice(fact, f"{NAMES[fact]}: {fact_words(fact, told)}") for fact, told in state.facts.items())
    later = () if not facts else tuple(fact for fact in LATER_FACTS if fact not in state.facts)
    facts += tuple(Choice(fact, f"{NAMES[fact]}: not asked yet") for fact in later)
    if not facts:
        raise CommandRefused("Nothing was told of the vehicle yet.", "Go on with the step on screen.")
    if not lines:
        return Ask(numbered("What is to be put right?", facts))
    fact = chosen(facts, lines[0])
    if len(lines) == 1:
        return Ask(numbered(fact_view(fact).ask, fact_view(fact).choices))
    gives = c.TellFact if fact in later else c.CorrectFact
    return gives(at_ms=stamp[0], who=stamp[1], fact=fact, value=fact_typed(fact, lines[1]))
