"""Where the patterns of the phrase book stand in a sentence, and whether a word before turns one round."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

BETWEEN: Final = 2
"""Words that may stand between two words of a pattern: "turn the engine off"."""
_INDEXED: Final = 2
"""Letters by which the beginnings of words are looked up."""

Key = tuple[str, ...]
_Place = tuple[frozenset[str], tuple[str, ...]]


@dataclass(frozen=True)
class Sighting:
    """One pattern found: what it stands for, and the places of its words."""

    key: Key
    places: tuple[int, ...]

    @property
    def start(self) -> int:
        """Where it begins."""
        return self.places[0]

    @property
    def weight(self) -> int:
        """How many words it has."""
        return len(self.places)


class Sighter:
    """Looks for every pattern at once."""

    def __init__(
        self, patterns: Mapping[Key, Iterable[str]], tight: Iterable[str] = (), never: Iterable[str] = ()
    ) -> None:
        """Take the patterns apart and order them by their first word.

        Args:
            patterns: those of each key.
            tight: first words of keys whose patterns let no other word stand between theirs.
            never: words that stand between those of no pattern: "I have not heard" is no "I have heard".
        """
        self._tight = frozenset(tight)
        self._never = frozenset(never)
        self._whole: dict[str, list[tuple[Key, tuple[_Place, ...]]]] = {}
        self._begun: dict[str, list[tuple[Key, tuple[_Place, ...]]]] = {}
        for key, listed in patterns.items():
            for pattern in dict.fromkeys(listed):
                self._enter(key, tuple(_place(slot.split("|")) for slot in pattern.split()))

    def _enter(self, key: Key, places: tuple[_Place, ...]) -> None:
        whole, begun = places[0]
        for word in whole:
            self._whole.setdefault(word, []).append((key, places))
        for start in {beginning[:_INDEXED] for beginning in begun}:
            self._begun.setdefault(start, []).append((key, places))

    def find(self, words: Sequence[str]) -> list[Sighting]:
        """Name every pattern with its places, in the order of the text."""
        found: dict[Sighting, None] = {}
        for start, word in enumerate(words):
            for key, pattern in (*self._whole.get(word, ()), *self._begun.get(word[:_INDEXED], ())):
                places = _places(pattern, words, start, 0 if key[0] in self._tight else BETWEEN)
                if places and not any(words[at] in self._never for at in range(start, places[-1]) if at not in places):
                    found[Sighting(key, places)] = None
        return list(found)


def longest(sightings: Iterable[Sighting]) -> list[Sighting]:
    """The sightings without those that share a word with a longer one, in the order of the text."""
    used: set[int] = set()
    kept: list[Sighting] = []
    for one in sorted(sightings, key=lambda one: (-one.weight, one.places[-1] - one.start, one.start)):
        if used.isdisjoint(one.places):
            used.update(one.places)
            kept.append(one)
    return sorted(kept, key=lambda one: one.start)


def within(sightings: Iterable[Sighting], places: Iterable[int]) -> Iterator[Sighting]:
    """The sightings that begin at one of these places."""
    there = frozenset(places)
    return (one for one in sightings if one.start in there)


def _place(alternatives: Sequence[str]) -> _Place:
    whole = frozenset(one for one in alternatives if not one.endswith("-"))
    return whole, tuple(one[:-1] for one in alternatives if one.endswith("-"))


def _places(pattern: Sequence[_Place], words: Sequence[str], start: int, between: int) -> tuple[int, ...] | None:
    """Where the pattern's words stand when its first one stands at `start`."""
    places: list[int] = []
    reach = range(start, min(start + 1, len(words)))
    for whole, beginnings in pattern:
        fitting = (at for at in reach if words[at] in whole or (beginnings and words[at].startswith(beginnings)))
        place = next(fitting, None)
        if place is None:
            return None
        places.append(place)
        reach = range(place + 1, min(place + 2 + between, len(words)))
    return tuple(places)
