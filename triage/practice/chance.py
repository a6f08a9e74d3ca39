"""Numbers that are drawn, the same on any processor: one generator for each thing that is drawn, named by words.

`random.Random` is seeded by SHA-512 of the words, and nothing but its `random()` is used, which is whole-number work
and one exact division; sums, products and comparisons of such numbers are alike everywhere. A thing that has a
generator of its own comes out alike in whatever order things are asked about.
"""

import random
from collections.abc import Sequence
from typing import TypeVar

One = TypeVar("One")


def share(*words: object) -> float:
    """A number from 0 up to, not including, 1.

    >>> share("a", 1) == share("a", 1), share("a", 1) == share("a", 2)
    (True, False)
    """
    return random.Random("|".join(map(str, words))).random()  # noqa: S311 - nothing secret hangs on it


def between(low: float, high: float, *words: object) -> float:
    """A number between two others."""
    return low + (high - low) * share(*words)


def picked(some: Sequence[One], *words: object) -> One:
    """One of some.

    >>> picked([7], "a")
    7
    """
    return some[int(share(*words) * len(some))]


def shuffled(some: Sequence[One], *words: object) -> tuple[One, ...]:
    """All of some in a drawn order."""
    return tuple(some[at] for at in sorted(range(len(some)), key=lambda at: (share(*words, at), at)))
