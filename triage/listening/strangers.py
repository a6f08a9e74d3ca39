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
from triage.listening.sentence import words_of
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

    def __init__(self, check: Check, words: CheckWords, parts: frozenset[str]) -> None:
        """Read the check's own text.

        Args:
            check: the check.
            words: its wording.
            parts: words that name what any check is about: of those only its own are no strange subject.
        """
        asks = (part.ask for way in (check.reading.ways if check.reading else ()) for part in way.parts)
        named = _words((check.name, check.question, *(outcome.words for outcome in check.outcomes)))
        mine = {word for pattern in (*words.about, *words.covers) for word in words_of(pattern)}
        self._check = check.id
        self._asked = check.way == "ask"
        self._own = named | _words((check.why, *check.steps, *check.hazards, *asks))
        self._named = named | (self._own - (parts - mine))
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
        qualifies = sighting.weight == 1 and not self._asked and _qualifies(heard, sighting, strange)
        if qualifies or self._subjects(heard, sighting):
            return True
        return len(strange) > (_MOST if on_screen else sighting.weight - 1) + (sighting.weight > 1 and on_screen)

    def _subjects(self, heard: Heard, sighting: Sighting) -> bool:
        """Whether an outcome is said of something that the check is not about."""
        words = heard.sentence.words
        before = [place for place in heard.sentence.clause(heard.clause(sighting.start)) if place < sighting.start]
        other = [place for place in before if self._other(heard, place)]
        alone = [place for place in before if place not in heard.places("filler")]
        leads = sighting.weight == 1 and alone == other == [sighting.start - 1]
        return leads or any(words[place + 1].word in _COPULAS for place in other)

    def _other(self, heard: Heard, place: int) -> bool:
        """Whether a word names something, and not what the check is about."""
        if heard.sentence.words[place].word in self._named or heard.sentence.words[place].word[0].isdigit():
            return False
        own = frozenset(at for kind in ("about", "covers") for at in heard.places(kind, self._check))
        answers = frozenset(
            at
            for kind in ("outcome", "answer")
            for one in self._outcomes
            for at in heard.places(kind, self._check, one)
        )
        return place not in own | answers | frozenset(at for word in _KNOWN for at in heard.places(word))

    def elsewhere(self, heard: Heard, start: int, end: int) -> bool:
        """Whether a number between two places of the text is said of something strange: "outside it is 14"."""
        words = heard.sentence.words
        clauses = {word.clause for word in words if start <= word.start < end}
        strange = {place for clause in clauses for place in self.places(heard, clause)}
        return any(words[place + 1].word in _COPULAS for place in strange if place + 1 < len(words))


def _words(texts: Iterable[str]) -> frozenset[str]:
    """The words of texts in singular and plural."""
    found = re.findall("[a-z]+", " ".join(texts).lower())
    return frozenset(form for word in found for form in (word, word.rstrip("s"), f"{word}s"))


def _qualifies(heard: Heard, sighting: Sighting, strange: frozenset[int]) -> bool:
    """Whether one word of an outcome goes with a strange thing behind it: "a rough night", but not "kicks in"."""
    behind = sighting.places[-1] + 1
    return behind in strange and not heard.sentence.words[behind].word.endswith("s")
