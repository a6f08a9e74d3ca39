"""Readings in a sentence: quantities as their grammar takes them, given to the parts of a check."""

import re
from collections.abc import Iterable
from typing import Final

from triage.knowledge.models import Check, Part, Way
from triage.listening.amounts import Amount, amounts, in_figures
from triage.listening.hearing import Heard
from triage.listening.items import Reading
from triage.units import parse_quantity

_LIMITS: Final = [[word] for word in ("over", "under", "above", "below", "than", "least", "max", "minimum", "maximum")]
"""Words behind which a number is a limit and no reading."""


def reading_of(check: Check, heard: Heard, *, bare: bool) -> Reading | None:
    """The reading of a check in a sentence, or nothing where it has none or more than one.

    Args:
        check: what was measured.
        heard: the sentence.
        bare: whether a number without a unit may be the reading.
    """
    if check.reading is None or not heard.sentence.words:
        return None
    text = in_figures(heard.typed)
    fitting = [taken for way in check.reading.ways if (taken := _by_way(check, way, text, bare=bare))]
    most = max((len(taken) for taken in fitting), default=0)
    fitting = [taken for taken in fitting if len(taken) == most]
    if len(fitting) != 1:
        return None
    taken = fitting[0]
    said = text[min(one.start for one in taken) : max(one.end for one in taken)]
    pieces = tuple(text[one.start : one.end] for one in taken)
    return Reading(check.id, tuple(one.quantity.value for one in taken), said, pieces)


def unit_of_limits(check: Check) -> str:
    """The unit in which the limits of a reading stand: a bare number takes it."""
    below = next((zone.below for zone in check.reading.zones if zone.below), None) if check.reading else None
    if check.reading is None or below is None:
        return ""
    return parse_quantity(below.text, check.reading.kind).unit


def _by_way(check: Check, way: Way, text: str, *, bare: bool) -> tuple[Amount, ...]:
    """What a text gives to the parts of one way, in their order; nothing where it does not fit or gives too much."""
    taken: list[Amount] = []
    for part in way.parts:
        own = way.formula is None and check.reading is not None and part.kind == check.reading.kind
        unit = unit_of_limits(check) if own else ""
        there = [one for one in amounts(text, part.kind, unit) if _fits(part, one) and not _used(one, taken)]
        if not taken:
            there = _meant(there, text, bare=bare, alone=len(way.parts) == 1)
        behind = [one for one in there if taken and one.start > taken[-1].start]
        if not there:
            break
        taken.append((behind or there)[0])
    return _in_order(way, taken, text)


def _used(amount: Amount, taken: Iterable[Amount]) -> bool:
    return any(amount.start < one.end and one.start < amount.end for one in taken)


def _in_order(way: Way, taken: list[Amount], text: str) -> tuple[Amount, ...]:
    """The amounts in the order of their parts, by the words that name these; nothing where the words do not fit."""
    ids = [part.id for part in way.parts[: len(taken)]]
    labels = _labels(way, sorted(taken, key=lambda one: one.start), text)
    named = [labels.get(one.start, "") for one in taken]
    if sorted(named) == sorted(ids):
        return tuple(taken[named.index(part)] for part in ids)
    return tuple(taken) if all(label in ("", part) for label, part in zip(named, ids, strict=True)) else ()


def _labels(way: Way, found: list[Amount], text: str) -> dict[int, str]:
    """The part that is named with each amount, by where it begins: behind each, else before."""
    ends = [0, *(one.end for one in found)]
    starts = [*(one.start for one in found), len(text)]
    gaps = [_label(way, text[end:start]) for end, start in zip(ends, starts, strict=True)]
    behind = not gaps[0] and all(gaps[1:])
    return dict(zip((one.start for one in found), gaps[1:] if behind else gaps, strict=False))


def _label(way: Way, gap: str) -> str:
    """The part that the words between two amounts name; "" where they name none or several."""
    words = re.findall("[a-z]+", gap.lower())
    named = {part.id for part in way.parts if part.id in words}
    return named.pop() if len(named) == 1 else ""


def _meant(there: list[Amount], text: str, *, bare: bool, alone: bool) -> list[Amount]:
    """The amounts that may be the first part: said with a unit, or bare where nothing else is; no limits.

    Where the part stands alone there is one, and a whole number without a unit beside it counts tries or parts.
    """
    there = [one for one in there if text[: one.start].lower().split()[-1:] not in _LIMITS]
    named = [one for one in there if not one.quantity.assumed]
    if not alone:
        return there if bare or (named and (there[0] in named or len(there) > 1)) else []
    if named:
        others = [one for one in there if one.quantity.assumed and "." in one.quantity.figures]
        return named if len(named) == 1 and not others else []
    return there if bare and len(there) == 1 else []


def _fits(part: Part, amount: Amount) -> bool:
    """Whether a quantity can be this part: of a size that a vehicle of this kind has."""
    value = abs(amount.quantity.value)
    least = parse_quantity(part.least.text, part.kind).value if part.least else 0.0
    most = parse_quantity(part.most.text, part.kind).value if part.most else value
    return least <= value <= most
