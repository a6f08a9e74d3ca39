"""What of a typed reading is asked back: a key or a number, a unit, and what no vehicle or instrument gives.

One rule holds wherever a check is answered: a key or `#n` chooses an answer, a number is a reading. What could be
either is asked; so is a bare number that means something else in another unit of the bench.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from triage.errors import TriageError
from triage.knowledge.models import Check, Knowledge, Part, Way
from triage.record.readings import TypedPart
from triage.session.doubting import Doubted, can_be, doubts_of, of_part
from triage.session.judging import judged
from triage.session.state import State
from triage.units import KINDS, parse_quantity, say_typed

SO = ("y", "yes")
AGAIN = 'Type it again, or "yes" where it is so.'
_KEY = re.compile(r"0*([1-9][0-9]?)\.?")


@dataclass(frozen=True)
class Typed:
    """A part of a reading with the line that it came of; `fraction` where that was one."""

    part: TypedPart
    line: str = ""
    fraction: bool = False


@dataclass(frozen=True)
class AskedBack:
    """A question about what was typed.

    Args:
        question: it.
        may_stand: whether it is taken all the same on somebody's word.
        whole: whether it is about all parts of a reading together, and not about the last line.
    """

    question: str
    may_stand: bool = False
    whole: bool = False


def key_or_number(check: Check, line: str, text: str) -> AskedBack | None:
    """Whether a line that is a whole number may be the number of an answer too."""
    key = _KEY.fullmatch(line.strip())
    if key is None or int(key[1]) > len(check.outcomes):
        return None
    words = check.outcomes[int(key[1]) - 1].words
    return AskedBack(f"{text}, or answer {key[1]}, “{words}”? Type {text}, or #{key[1]}.")


def asked_back(
    knowledge: Knowledge, state: State, check: Check, way: Way, typed: Sequence[Typed], new: int
) -> AskedBack | None:
    """What is to be asked about a reading so far, whose last `new` parts came with the last line."""
    pairs = list(zip(way.parts, typed, strict=False))
    for part, one in pairs[-new:]:
        unit = _unit_of_part(part, one)
        if unit:
            return unit
    whole = len(typed) == len(way.parts)
    if whole and any(one.part.bare for one in typed):
        other = _unit_of_verdict(state, check, way, typed)
        if other:
            return other
    doubts = [doubt for part, one in pairs[-new:] for doubt in of_part(knowledge, way, part, one.part)]
    if doubts or not whole:
        return _doubted(knowledge, doubts)
    parts = tuple(one.part for one in typed)
    of_all = [doubt for doubt in doubts_of(knowledge, check, parts, judged(check, state, parts)) if doubt.part is None]
    return _doubted(knowledge, of_all, whole=True)


def _doubted(knowledge: Knowledge, doubts: list[Doubted], *, whole: bool = False) -> AskedBack | None:
    words = dict.fromkeys(_words(knowledge, doubt) for doubt in doubts)
    return AskedBack(" ".join((*words, AGAIN)), may_stand=True, whole=whole) if doubts else None


def _unit_of_part(part: Part, one: Typed) -> AskedBack | None:
    """A fraction of an inch without a unit, or a bare number that only another unit makes possible."""
    if not one.part.bare:
        return None
    others = [text for label, text, value in _in_other_units(part, one) if can_be(part, value)]
    if one.fraction and KINDS[part.kind].also == ("in",):
        inches = next(text for label, text, _ in _in_other_units(part, one) if label == "in")
        return AskedBack(f"{inches}, or {one.part.text}? Type it with its unit.")
    if others and not can_be(part, one.part.value):
        return AskedBack(f"{' or '.join((one.part.text, *others))}? Type it with its unit.")
    return None


def _in_other_units(part: Part, one: Typed) -> Iterator[tuple[str, str, float]]:
    """What a bare number would be in the other units of the bench: unit, in words, value [SI]."""
    kind = KINDS[part.kind]
    for label in (kind.usual, *kind.also):
        quantity = parse_quantity(one.line, part.kind, label)
        if quantity.value != one.part.value:
            yield label, say_typed(quantity), quantity.value


def _unit_of_verdict(state: State, check: Check, way: Way, typed: Sequence[Typed]) -> AskedBack | None:
    """Whether the bare numbers of a whole reading say something else in another unit: all of one kind in one unit."""
    alone = replace(state, first_readings={})
    taken = _outcome(check, alone, [one.part for one in typed])
    said = {_bare_words(typed): taken}
    for label in dict.fromkeys(
        label for part in way.parts for label in (KINDS[part.kind].usual, *KINDS[part.kind].also)
    ):
        other = [_relabelled(part, one, label) for part, one in zip(way.parts, typed, strict=True)]
        if all(can_be(part, one.part.value) for part, one in zip(way.parts, other, strict=True)):
            said.setdefault(_bare_words(other), _outcome(check, alone, [one.part for one in other]))
    differ = {text: outcome for text, outcome in said.items() if outcome and outcome != taken}
    if not differ or not taken:
        return None
    told = [f"{text} ({_lower(outcome)})" for text, outcome in {_bare_words(typed): taken, **differ}.items()]
    return AskedBack(f"{', or '.join(told)}? Type it with its unit.", whole=True)


def _relabelled(part: Part, one: Typed, label: str) -> Typed:
    kind = KINDS[part.kind]
    if not one.part.bare or label not in (kind.usual, *kind.also):
        return one
    quantity = parse_quantity(one.line, part.kind, label)
    return replace(one, part=one.part.model_copy(update={"value": quantity.value, "text": say_typed(quantity)}))


def _bare_words(typed: Sequence[Typed]) -> str:
    return "; ".join(one.part.text for one in typed if one.part.bare)


def _outcome(check: Check, state: State, parts: list[TypedPart]) -> str:
    """The words of the likelier outcome; "" where the parts have none."""
    try:
        verdict = judged(check, state, tuple(parts)).verdict
    except TriageError:
        return ""
    likeliest = max(range(len(verdict.probabilities)), key=lambda zone: verdict.probabilities[zone])
    outcome = check.outcome(check.reading.zones[likeliest].outcome) if check.reading else None
    return outcome.words if outcome else ""


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]


def _words(knowledge: Knowledge, doubt: Doubted) -> str:
    said = f"{doubt.part.text}? " if doubt.part else "That comes to "
    source = knowledge.sources[doubt.bound.source].title if doubt.bound.source in knowledge.sources else ""
    end = "more" if doubt.over else "less"
    if doubt.doubt == "beyond-stop":
        return f"{said}The steps say to stop at {doubt.bound.text}."
    if doubt.doubt == "beyond-instrument":
        reads = "up to" if doubt.over else "from"
        return f"{said}{knowledge.tools[doubt.tool].name}: it reads {reads} {doubt.bound.text} ({_lower(source)})."
    if doubt.part is None:
        return f"{said}{end} than {doubt.bound.text}."
    return f"{said}It is {end} than {doubt.bound.text}, which such a vehicle hardly has ({_lower(source)})."
