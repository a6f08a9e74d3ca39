"""Words that nothing here knows: where there are many, or one is the subject, a clause is about something else.

"The boss is tired" says nothing of a belt, though a tired belt is a worn one. What a check knows is every word of its
own text, of its patterns, and of what goes with any sentence.
"""

import re
from collections.abc import Iterable
from typing import Final

from triage.knowledge.models import Check
from triage.listening.hearing import Heard
from triage.listening.phrasebook import CheckWords
from triage.listening.sighting import Sighting

_MOST: Final = 2
"""Strange words that a clause may have beside an outcome that is said on screen. From memory."""
_COPULAS: Final = frozenset(
    "is are was were has have had feels feel looks look seems seem sounds sound got gets went goes came comes".split()  # noqa: SIM905
)
_KNOWN: Final = (
    "filler",
    "passing",
    "plainly",
    "good",
    "bad",
    "yes",
    "no",
    "negating",
    "no_negation",
    "ends_negation",
    "by_hand",
    "correcting",
    "no_question",
    "cannot",
    "obstacle",
    "lacking",
    "doubting",
    "unsure",
    "denying",
    "echoing",
)


class Strangers:
    """Tells what a clause says that a check knows nothing of."""

    def __init__(self, check: Check, words: CheckWords) -> None:
        """Read the check's own text."""
        outcomes = (outcome.words for outcome in check.outcomes)
        asks = (part.ask for way in (check.reading.ways if check.reading else ()) for part in way.parts)
        text = " ".join((check.name, check.question, check.why, *check.steps, *check.hazards, *outcomes, *asks)).lower()
        self._check = check.id
        self._own = frozenset(
            form for word in re.findall("[a-z]+", text) for form in (word, word.rstrip("s"), f"{word}s")
        )
        self._outcomes = tuple(words.outcomes)

    def places(self, heard: Heard, clause: int) -> frozenset[int]:
        """The places of a clause that are strange."""
        words = heard.sentence.words
        here = (place for place in heard.sentence.clause(clause) if not words[place].word[0].isdigit())
        return frozenset(place for place in here if words[place].word not in self._own) - self._seen(heard)

    def _seen(self, heard: Heard) -> frozenset[int]:
        answers = ((kind, self._check, outcome) for kind in ("outcome", "answer") for outcome in self._outcomes)
        named = (one for kind in ("about", "covers", "tools") for one in heard.under(kind))
        return (
            frozenset(place for word in _KNOWN for place in heard.places(word))
            | frozenset(place for key in answers for place in heard.places(*key))
            | frozenset(place for one in named for place in one.places)
        )

    def foreign(self, heard: Heard, sighting: Sighting, *, on_screen: bool) -> bool:
        """Whether a clause is about something else than the check: by its subject, or by how much in it is strange."""
        strange = self.places(heard, heard.clause(sighting.start))
        if _subject(heard, (place for place in strange if place < sighting.start)):
            return True
        return len(strange) > (_MOST if on_screen else sighting.weight - 1) + (sighting.weight > 1 and on_screen)

    def elsewhere(self, heard: Heard) -> bool:
        """Whether a clause with a number in it has a strange subject: "outside it is 14"."""
        words = heard.sentence.words
        clauses = {word.clause for word in words if word.word[0].isdigit()}
        return any(_subject(heard, self.places(heard, clause)) for clause in clauses)


def _subject(heard: Heard, places: Iterable[int]) -> bool:
    """Whether one of these places is what something is said of."""
    words = heard.sentence.words
    return any(place + 1 < len(words) and words[place + 1].word in _COPULAS for place in places)
