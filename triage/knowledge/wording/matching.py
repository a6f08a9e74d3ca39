"""From a complaint in free words to the symptoms that it may mean; a person confirms one of them.

Two things speak for a symptom: the concepts that a text names (`triage.knowledge.wording.words`), and how near it
comes to a phrase that the symptom's tree lists. So a tree with phrases alone can be found, and a phrase that nobody
thought of can be understood. Words that nobody knows are first taken for a misspelling of a known one.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from rapidfuzz import fuzz

from triage.errors import TriageError
from triage.knowledge.models import Tree
from triage.knowledge.wording.patterns import Begins, Finder
from triage.knowledge.wording.spelling import Speller
from triage.knowledge.wording.tokens import tokens
from triage.knowledge.wording.words import SymptomWords

LONGEST: Final = 700
"""Characters of a text that is matched: a sentence or two. From memory."""
ENOUGH: Final = 50.0
"""Points from which a symptom is proposed; half of the score. From memory, as the points are."""
_PHRASE_FROM: Final = 0.62
"""Likeness to a phrase below which it says nothing: two complaints share this much by their ordinary words."""
_PHRASE_POINTS: Final = 65.0
_BESIDE: Final = "beside"
_FOREIGN: Final = "foreign"
_COMPARED: Final = 4
"""Words behind "like" that belong to a comparison: "like a smoke detector" is about no smoke detector."""
_BESIDE_POINTS: Final = -80.0
_WORTH_SHOWING: Final = 0.4
"""Share of the best one's points below which a further proposal only distracts."""


@dataclass(frozen=True)
class Match:
    """One symptom that a text may mean; the score lies between 0 and 1 and is no probability."""

    symptom: str
    score: float


class Matcher:
    """Knows the words and the phrases of one folder of knowledge."""

    def __init__(self, words: SymptomWords, trees: Mapping[str, Tree]) -> None:
        """Prepare the lists that every text is compared with."""
        self._words = words
        self._finder = Finder({**words.concepts, _BESIDE: words.beside})
        self._foreign = Finder({_FOREIGN: words.foreign})
        listed = {symptom: [tokens(phrase) for phrase in tree.phrases] for symptom, tree in trees.items()}
        seen = {word for lines in listed.values() for line in lines for word in line}
        self._speller = Speller(words.recognised, seen.union(words.plain))
        self._phrases = {symptom: [self._content(line) for line in lines] for symptom, lines in listed.items()}

    def match(self, text: str) -> tuple[Match, ...]:
        """Propose symptoms, the best first; nothing where nothing fits.

        Raises:
            TriageError: the text is too long to be one complaint.
        """
        if len(text) > LONGEST:
            raise TriageError(
                f"The text has {len(text)} characters; a complaint has at most {LONGEST}.",
                "Say in a sentence or two what is noticed and when.",
            )
        spoken = self._speller.correct(tokens(text))
        if _literal(spoken, self._foreign.find(spoken).get(_FOREIGN, [])):
            return ()
        found = self._finder.find(spoken)
        points = {symptom: self._points(symptom, spoken, found) for symptom in self._phrases}
        best = max(points.values(), default=0.0)
        ranked = sorted(points.items(), key=lambda item: (-item[1], item[0]))
        worth = max(ENOUGH, best * _WORTH_SHOWING)
        return tuple(Match(symptom, round(sum_ / (sum_ + ENOUGH), 3)) for symptom, sum_ in ranked if sum_ >= worth)

    def _points(self, symptom: str, spoken: list[str], found: Begins) -> float:
        gives = self._words.symptoms.get(symptom, {})
        needed = self._words.needs.get(symptom)
        counts = needed is None or not found.keys().isdisjoint(needed)
        total = sum(float(points) for concept, points in gives.items() if concept in found) if counts else 0.0
        if _literal(spoken, found.get(_BESIDE, [])) and found.keys().isdisjoint(self._words.drive):
            total += _BESIDE_POINTS
        return total + _likeness(self._content(spoken), self._phrases[symptom])

    def _content(self, words: list[str]) -> str:
        return " ".join(word for word in words if word not in self._words.filler)


def _literal(spoken: list[str], places: list[int]) -> bool:
    return any("like" not in spoken[max(0, place - _COMPARED) : place] for place in places)


def _likeness(spoken: str, phrases: Iterable[str]) -> float:
    nearest = max((fuzz.token_sort_ratio(spoken, phrase) / 100 for phrase in phrases), default=0.0)
    return _PHRASE_POINTS * max(0.0, nearest - _PHRASE_FROM) / (1 - _PHRASE_FROM)
