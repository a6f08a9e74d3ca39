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

LARGE = 1e6
"""Numbers in all tables beyond which a better order is worth its search. Source: measured, common practice."""


@dataclass(frozen=True)
class Turn:
    """One cause's turn: the signs that enter before it, those it pushes, and those that leave after it."""

    cause: int
    enter: tuple[str, ...]
    push: tuple[str, ...]
    leave: tuple[str, ...]


def turns(producers: Mapping[str, frozenset[int]], levels: Mapping[str, int], pieces: int) -> list[Turn]:
    """Order the causes.

    Args:
        producers: the causes that produce each sign, at least one.
        levels: how many levels each sign has.
        pieces: how many tables are worked out at once.

    Returns:
        A turn for each cause that produces one of the signs.
    """
    own = _bits(producers)
    best = _turns(_greedy(own, None), producers)
    if pieces * size(best, levels) > LARGE:
        tried = (_turns(_greedy(own, first), producers) for first in own)
        best = min(tried, key=lambda one: size(one, levels))
    return best


def _bits(producers: Mapping[str, frozenset[int]]) -> dict[int, int]:
    """The signs that each cause produces, as bits."""
    own: dict[int, int] = {}
    for at, causes in enumerate(producers.values()):
        for cause in sorted(causes):
            own[cause] = own.get(cause, 0) | 1 << at
    return own


def _greedy(own: Mapping[int, int], first: int | None) -> list[int]:
    waiting, order, inside = dict(own), [], 0
    cause = first
    while waiting:
        last = _only_once(waiting.values())
        if cause is None:
            grown = {one: (bits & ~inside).bit_count() - (bits & last).bit_count() for one, bits in waiting.items()}
            cause = min(grown, key=lambda one: (grown[one], -waiting[one].bit_count()))
        inside = (inside | waiting.pop(cause)) & ~(own[cause] & last)
        order.append(cause)
        cause = None
    return order


def _only_once(all_of: Iterable[int]) -> int:
    seen = twice = 0
    for bits in all_of:
        twice |= seen & bits
        seen |= bits
    return seen & ~twice


def _turns(order: list[int], producers: Mapping[str, frozenset[int]]) -> list[Turn]:
    place = {cause: at for at, cause in enumerate(order)}
    spans = {sign: sorted(place[cause] for cause in causes) for sign, causes in producers.items()}
    return [
        Turn(
            cause,
            enter=tuple(sign for sign, span in spans.items() if span[0] == at),
            push=tuple(sign for sign, span in spans.items() if at in span),
            leave=tuple(sign for sign, span in spans.items() if span[-1] == at),
        )
        for at, cause in enumerate(order)
    ]


def size(order: list[Turn], levels: Mapping[str, int]) -> int:
    """Numbers in all tables, each as often as it is pushed."""
    held = total = 1
    for turn in order:
        held *= math.prod(levels[sign] for sign in turn.enter)
        total += held * (len(turn.push) + 1)
        held //= math.prod(levels[sign] for sign in turn.leave)
    return total
