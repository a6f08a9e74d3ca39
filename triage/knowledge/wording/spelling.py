"""Words that nobody knows, taken for the known word that they were meant to be."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from rapidfuzz import process
from rapidfuzz.distance import OSA

_SHORTEST: Final = 5
"""Of shorter words only letters that changed places are mended; another letter makes another word: best, belt."""
_LONG: Final = 8
"""From this length on two slips of the finger leave a word recognisable."""
_ENDINGS: Final = ("ing", "ed", "es", "s", "y")


class Speller:
    """Mends words towards a list of those that matter."""

    def __init__(self, recognised: Iterable[str], plain: Iterable[str]) -> None:
        """Keep the words to recognise, and the plain ones, which are right as they are."""
        self._plain = frozenset(plain)
        self._aims: dict[str, list[str]] = {}
        for word in recognised:
            self._aims.setdefault(word[0], []).append(word)

    def correct(self, words: Sequence[str]) -> list[str]:
        """Put the recognised word in the place of each misspelled one."""
        return [word if word in self._plain else self._nearest(word) for word in words]

    def _nearest(self, word: str) -> str:
        aims = self._aims.get(word[:1], [])  # people seldom miss the first letter
        if any(word.startswith(aim) for aim in aims):
            return word
        near = [found for form in _without_endings(word) if (found := _near(form, aims))]
        return min(near, key=lambda found: found[1])[0] if near else word


def _near(form: str, aims: Sequence[str]) -> tuple[str, float] | None:
    if len(form) < _SHORTEST:
        return next(((aim, 1.0) for aim in aims if sorted(aim) == sorted(form)), None)
    slips = 1 if len(form) < _LONG else 2
    found = process.extractOne(form, aims, scorer=OSA.distance, score_cutoff=slips)
    return (found[0], found[1]) if found else None


def _without_endings(word: str) -> Iterator[str]:
    yield word
    yield from (word.removesuffix(ending) for ending in _ENDINGS if word.endswith(ending))
