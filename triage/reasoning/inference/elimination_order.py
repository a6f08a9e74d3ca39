"""In which order causes are taken, so that few signs hold together at once.

Taking a cause brings in the signs that it produces; a sign is done with when its last cause was taken. The levels of
all signs that are in at once make one table, so the order decides how large tables grow. The best order is hard to
find; next is always a cause after which the table has grown least, and where that ends large, every cause is tried as
the first one.

Source: greedy elimination orders, textbook method, from memory.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from triage.errors import TooManyAtOnceError

MOST_NUMBERS = 4e6
"""Numbers in the tables of one sum beyond which it is not begun: about 50 ms and 100 MB. Source: measured."""
LARGE = 2e6
"""Numbers in all tables beyond which a better order is worth its search. Source: measured, common practice."""


@dataclass(frozen=True)
class CauseTurn:
    """One cause's turn: the signs that enter before it, those it pushes, and those that leave after it."""

    cause: int
    enter: tuple[str, ...]
    push: tuple[str, ...]
    leave: tuple[str, ...]


def turns(producers: Mapping[str, frozenset[int]], pieces: int) -> list[CauseTurn]:
    """Order the causes.

    Args:
        producers: the causes that produce each sign, at least one.
        pieces: how many tables are worked out at once.

    Returns:
        A turn for each cause that produces one of the signs.

    Raises:
        TooManyAtOnceError: the best order that was found still holds too much at once.
    """
    own = _bits(producers)
    order, numbers = _greedy(own, None, math.inf)
    if pieces * numbers > LARGE:
        for first in own:
            order, numbers = min((order, numbers), _greedy(own, first, numbers), key=lambda tried: tried[1])
    if numbers > MOST_NUMBERS:
        message = f"{len(producers)} abnormal results hang together here: too many to be weighed within a moment."
        raise TooManyAtOnceError(message, "They are kept; what is likely is missing until fewer stand: path, amend.")
    return _turns(order, producers)


def _bits(producers: Mapping[str, frozenset[int]]) -> dict[int, int]:
    """The signs that each cause produces, as bits."""
    own: dict[int, int] = {}
    for at, causes in enumerate(producers.values()):
        for cause in sorted(causes):
            own[cause] = own.get(cause, 0) | 1 << at
    return own


def _greedy(own: Mapping[int, int], first: int | None, most: float) -> tuple[list[int], float]:
    """An order and how many numbers its tables hold, two for each sign; given up beyond a number."""
    waiting, inside, numbers = dict(own), 0, 0.0
    order: list[int] = []
    while waiting and numbers < most:
        last = _only_once(waiting.values())
        cause = _next(waiting, inside, last) if order or first is None else first
        bits = waiting.pop(cause)
        order.append(cause)
        numbers += (1 << (inside | bits).bit_count()) * (bits.bit_count() + 1)
        inside = (inside | bits) & ~(bits & last)
    return order, math.inf if waiting else numbers


def _next(waiting: Mapping[int, int], inside: int, last: int) -> int:
    """The cause after which the table has grown least, among equals the one with most signs."""
    chosen, lowest, outside = -1, math.inf, ~inside
    for cause, bits in waiting.items():
        grown = 1000 * ((bits & outside).bit_count() - (bits & last).bit_count()) - bits.bit_count()
        if grown < lowest:
            chosen, lowest = cause, grown
    return chosen


def _only_once(all_of: Iterable[int]) -> int:
    seen = twice = 0
    for bits in all_of:
        twice |= seen & bits
        seen |= bits
    return seen & ~twice


def _turns(order: list[int], producers: Mapping[str, frozenset[int]]) -> list[CauseTurn]:
    place = {cause: at for at, cause in enumerate(order)}
    spans = {sign: sorted(place[cause] for cause in causes) for sign, causes in producers.items()}
    return [
        CauseTurn(
            cause,
            enter=tuple(sign for sign, span in spans.items() if span[0] == at),
            push=tuple(sign for sign, span in spans.items() if at in span),
            leave=tuple(sign for sign, span in spans.items() if span[-1] == at),
        )
        for at, cause in enumerate(order)
    ]
