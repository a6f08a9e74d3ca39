"""Facts of the vehicle in a sentence: the maker's pulley type, the odometer, the number of cylinders."""

from collections.abc import Iterator
from typing import Final

from triage.listening.hearing import Heard
from triage.listening.items import MeasuredFact, WordFact
from triage.listening.readings import amounts
from triage.listening.sighting import longest

_MOST_CYLINDERS: Final = 16
_LEAST_DRIVEN_M: Final = 1e6
"""1000 km: shorter distances in a sentence are ways, not odometers. From memory."""


def facts_in(heard: Heard, *, freely: bool) -> Iterator[WordFact | MeasuredFact]:
    """The facts that a sentence tells.

    Args:
        heard: the sentence.
        freely: whether a pulley type alone is the maker's: at the start, where nothing else is meant by it.
    """
    if heard.asked or heard.supposed:
        return
    yield from _cylinders(heard)
    yield from _odometer(heard)
    yield from _pulley(heard, freely=freely)


def _cylinders(heard: Heard) -> Iterator[WordFact]:
    counts = {int(one.key[1]) for one in heard.under("cylinders") if not heard.negated(one) and not heard.unsaid(one)}
    if len(counts) == 1 and 0 < min(counts) <= _MOST_CYLINDERS:
        yield WordFact("cylinders", min(counts))


def _odometer(heard: Heard) -> Iterator[MeasuredFact]:
    named = bool(heard.sightings("odometer"))
    driven = {
        one.quantity.value
        for one in amounts(heard.typed, "distance")
        if one.quantity.value >= _LEAST_DRIVEN_M and (not one.quantity.assumed or named)
    }
    if len(driven) == 1 and not heard.doubted:
        yield MeasuredFact("odometer", driven.pop())


def _pulley(heard: Heard, *, freely: bool) -> Iterator[WordFact]:
    said = [one for one in longest(heard.under("pulleys")) if not heard.unsaid(one) and not heard.negated(one)]
    makers = {heard.clause(one.start) for one in heard.sightings("specified")}
    kinds = {one.key[1] for one in said if freely or heard.clause(one.start) in makers}
    if len(kinds) == 1:
        yield WordFact("pulley", kinds.pop())
