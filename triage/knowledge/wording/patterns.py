"""Which concepts a row of words names."""

from collections.abc import Mapping, Sequence
from typing import Final

Begins = dict[str, list[int]]
"""For each concept that a text names, where its patterns begin."""

_BETWEEN: Final = 2
"""Words that may stand between two words of a pattern: "turn the engine off"."""
_NEGATING: Final = frozenset({"not", "no", "never", "isnt", "wasnt", "arent", "doesnt", "didnt", "without", "nor"})
_PASSED_OVER: Final = frozenset({"a", "an", "the", "any", "really", "like", "much", "exactly"})

WordSlot = tuple[frozenset[str], tuple[str, ...]]
"""What may stand in one place of a pattern: whole words, and beginnings of words."""


class Finder:
    """Looks for many patterns at once, the longest first."""

    def __init__(self, concepts: Mapping[str, Sequence[str]]) -> None:
        """Take the patterns apart."""
        taken = [
            (concept, tuple(_place(alternatives.split("|")) for alternatives in pattern.split()))
            for concept, patterns in concepts.items()
            for pattern in patterns
        ]
        self._patterns = sorted(taken, key=lambda item: -len(item[1]))

    def find(self, words: Sequence[str]) -> Begins:
        """Name the concepts of a text; a word serves one pattern only, and a negated one none."""
        free = [True] * len(words)
        found: Begins = {}
        for concept, pattern in self._patterns:
            for start in range(len(words)):
                places = _places(pattern, words, free, start)
                if places is None:
                    continue
                for place in places:
                    free[place] = False
                if not _negated(words, start):
                    found.setdefault(concept, []).append(start)
        return found


def _place(alternatives: Sequence[str]) -> WordSlot:
    whole = frozenset(one for one in alternatives if not one.endswith("-"))
    return whole, tuple(one[:-1] for one in alternatives if one.endswith("-"))


def _places(pattern: Sequence[WordSlot], words: Sequence[str], free: Sequence[bool], start: int) -> list[int] | None:
    """Where the pattern's words stand when its first one stands at `start`."""
    places: list[int] = []
    reach = range(start, min(start + 1, len(words)))
    for whole, beginnings in pattern:
        fitting = (at for at in reach if free[at] and (words[at] in whole or words[at].startswith(beginnings)))
        place = next(fitting, None)
        if place is None:
            return None
        places.append(place)
        reach = range(place + 1, min(place + 2 + _BETWEEN, len(words)))
    return places


def _negated(words: Sequence[str], start: int) -> bool:
    before = [word for word in words[max(0, start - 3) : start] if word not in _PASSED_OVER]
    return bool(before) and before[-1] in _NEGATING
