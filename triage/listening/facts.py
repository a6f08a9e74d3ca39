"""Facts of the vehicle in a sentence: the maker's pulley type, the odometer, the number of cylinders."""

from collections.abc import Iterator
from typing import Final

from triage.knowledge.models import Check
from triage.listening.amounts import amounts
from triage.listening.hearing import Heard
from triage.listening.items import MeasuredFact, WordFact
from triage.listening.sighting import longest

_MOST_CYLINDERS: Final = 16
_LEAST_DRIVEN_M: Final = 1e6
"""1000 km: shorter distances in a sentence are ways, not odometers. From memory."""
_OTHER_DISTANCES: Final = [
    [word] for word in ("every", "after", "last", "next", "another", "for", "until", "by", "since")
]
"""Words behind which a distance is no odometer: "changed every 100000 km"; the last only without a unit."""
UNKNOWN: Final = "unknown"


def facts_in(heard: Heard, check: Check | None, *, complaint: bool) -> Iterator[WordFact | MeasuredFact]:
    """The facts that a sentence tells.

    Args:
        heard: the sentence.
        check: the check on screen.
        complaint: whether the complaint is being said: a pulley type alone is the maker's there.
    """
    if heard.asked or heard.supposed:
        return
    yield from _cylinders(heard)
    yield from _odometer(heard)
    kinds = _pulleys(heard, check, complaint=complaint)
    if len(kinds) == 1:
        yield WordFact("pulley", kinds.pop())


def _cylinders(heard: Heard) -> Iterator[WordFact]:
    counts = {int(one.key[1]) for one in heard.under("cylinders") if not heard.negated(one) and not heard.unsaid(one)}
    if len(counts) == 1 and 0 < min(counts) <= _MOST_CYLINDERS:
        yield WordFact("cylinders", min(counts))


def _odometer(heard: Heard) -> Iterator[MeasuredFact]:
    named = bool(heard.sightings("odometer"))
    text = heard.typed
    driven = {
        one.quantity.value
        for one in amounts(text, "distance")
        if one.quantity.value >= _LEAST_DRIVEN_M
        and (not one.quantity.assumed or named)
        and text[: one.start].lower().split()[-1:] not in _OTHER_DISTANCES[: None if one.quantity.assumed else -1]
    }
    if len(driven) == 1 and not heard.doubted | heard.elsewhere:
        yield MeasuredFact("odometer", driven.pop())


def _pulleys(heard: Heard, check: Check | None, *, complaint: bool) -> set[str]:
    """The types that are said to be the maker's."""
    said = [one for one in longest(heard.under("pulleys")) if not heard.negated(one) and one.start not in heard.doubted]
    makers = {heard.clause(one.start) for one in heard.sightings("specified")}
    named = {one.key[1] for one in said if heard.clause(one.start) in makers}
    if named:
        return named
    if makers and heard.sightings("unsure") and not said:
        return {UNKNOWN}
    if check:
        return set()
    fitted = {heard.clause(one.start) for one in heard.sightings("fitted")}
    return {one.key[1] for one in said if complaint or heard.clause(one.start) in fitted}
