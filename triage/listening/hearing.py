"""A text with all that was seen in it: patterns with their places, and what kind of saying each place belongs to."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from triage.knowledge.wording.spelling import Speller
from triage.listening.phrasebook import Phrasebook, Speech
from triage.listening.sentence import Sentence, sentences, words_of
from triage.listening.sighting import Key, Sighter, Sighting, longest, within

_SHORTEST: Final = 5
"""Letters from which a word of the phrase book is an aim for misspelled ones: shorter ones lie too near each other."""
_SAID: Final = (
    "filler",
    "passing",
    "negating",
    "no_negation",
    "ends_negation",
    "doubting",
    "supposing",
    "elsewhere",
    "hearsay",
    "printed",
    "beside",
    "correcting",
    "good",
    "bad",
    "yes",
    "no",
    "unsure",
    "cannot",
    "lacking",
    "questions",
    "asking",
    "restarting",
    "specified",
    "odometer",
    "turned",
    "no_question",
    "by_hand",
    "plainly",
    "recorded",
    "refused",
    "denying",
    "obstacle",
    "fitted",
    "echoing",
)


_LEADING: Final = frozenset({"so", "and", "but", "ok", "okay", "well", "then", "or", "hey", "mate"})
_TIGHT: Final = (
    "filler",
    "negating",
    "no_negation",
    "ends_negation",
    "doubting",
    "supposing",
    "beside",
    "correcting",
    "yes",
    "no",
    "questions",
    "asking",
    "restarting",
    "turned",
    "no_question",
    "cylinders",
)
"""Keys whose patterns let no word stand between theirs."""


@dataclass(frozen=True)
class Heard:
    """One sentence: its words, what was seen in it, and the places that are questions, doubts or thoughts."""

    text: str
    sentence: Sentence
    seen: dict[Key, tuple[Sighting, ...]]
    asked: frozenset[int]
    doubted: frozenset[int]
    supposed: frozenset[int]
    elsewhere: frozenset[int]
    beside: frozenset[int]
    hearsay: frozenset[int]

    def sightings(self, *key: str) -> tuple[Sighting, ...]:
        """What was seen under a key."""
        return self.seen.get(key, ())

    def places(self, *key: str) -> frozenset[int]:
        """Every place of what was seen under a key."""
        return frozenset(place for one in self.sightings(*key) for place in one.places)

    def under(self, first: str) -> Iterator[Sighting]:
        """What was seen under every key that begins so."""
        return (one for key, listed in self.seen.items() if key[0] == first for one in listed)

    def clause(self, place: int) -> int:
        """The clause that a place is in."""
        return self.sentence.words[place].clause

    @property
    def typed(self) -> str:
        """The sentence as it was typed."""
        return self.text[self.sentence.start : self.sentence.end]

    def said(self, places: Iterable[int]) -> str:
        """The text from the first to the last of these places, as it was typed."""
        words = [self.sentence.words[place] for place in places]
        return self.text[min(word.start for word in words) : max(word.end for word in words)] if words else ""

    def unsaid(self, sighting: Sighting) -> bool:
        """Whether it is asked, doubted or only thought of."""
        regions = (
            (self.asked, ("questions",)),
            (self.doubted, ("doubting",)),
            (self.supposed, ("supposing",)),
            (self.elsewhere, ("elsewhere",)),
            (self.beside, ()),
        )
        return any(
            sighting.start in region and not any(self._holds(sighting, word) for word in words)
            for region, words in regions
        )

    def _holds(self, sighting: Sighting, word: str) -> bool:
        """Whether a sighting has the word in it that made its place a doubt or a thought."""
        return not self.places(word).isdisjoint(sighting.places)

    def negated(self, sighting: Sighting) -> bool:
        """Whether a word before turns it round, or one behind: "steering does not bother it", "lights no"."""
        if not self.places("negating").isdisjoint(sighting.places):
            return False
        if self._turned_behind(sighting):
            return True
        ends = self.places("ends_negation")
        for place in range(sighting.start - 1, -1, -1):
            if place in self.places("negating") and place not in self.places("no_negation"):
                return self._reaches(place, sighting.start) and not self._restarted(place, sighting.start)
            if place in ends:
                return False
        return False

    def _turned_behind(self, sighting: Sighting) -> bool:
        clause = self.sentence.clause(self.clause(sighting.start))
        last = self.sentence.words[clause[-1]].word
        behind = [one for one in self.sightings("denying") if one.start in clause and one.start > sighting.places[-1]]
        return bool(behind) or (last == "no" and clause[-1] > sighting.places[-1])

    def _restarted(self, negating: int, place: int) -> bool:
        """Whether something denied stands before, and what follows begins anew: "not fuel, it is coolant"."""
        begun = [one.start for one in self.sightings("restarting") if negating < one.start < place]
        denied = (*self.under("answer"), *self.under("about"))
        return any(negating < one.start < max(begun, default=0) for one in denied)

    def _reaches(self, negating: int, place: int) -> bool:
        """A negation holds in its clause, and in the next ones of a list: "no play, noise or wobble"."""
        between = self.sentence.words[negating + 1 : place]
        if self.clause(negating) == self.clause(place):
            return True
        rest = [word.word for word in self.sentence.words[negating + 1 :] if word.clause <= self.clause(place)]
        listing = "or" in rest or "nor" in rest
        return listing and len(between) <= 2 * (self.clause(place) - self.clause(negating)) + 2


class Ear:
    """Hears sentences by a phrase book."""

    def __init__(self, book: Phrasebook) -> None:
        """Prepare every pattern."""
        self._speech = book.speech
        patterns = _patterns(book)
        self._sighter = Sighter(patterns, _TIGHT, (word for word in book.speech.negating if " " not in word))
        aims = {
            word
            for listed in (*patterns.values(), book.speech.recognised)
            for pattern in listed
            for word in words_of(pattern)
            if len(word) >= _SHORTEST and word.isalpha()
        }
        self._plain = {word for pattern in book.speech.plain for word in words_of(pattern)}
        self._speller = Speller(sorted(aims), self._plain)
        denials = (
            form for form, meant in book.speech.short_forms.items() if meant.endswith(" not") and len(form) >= _SHORTEST
        )
        self._denials = Speller(sorted(denials), {*self._plain, *aims})
        self._joins = frozenset(self._speech.joins)

    def hear(self, text: str) -> tuple[Heard, ...]:
        """Every sentence of a text that says something."""
        cut = sentences(text, self._speech.short_forms, self._joins, self._speller.correct, self._denials.correct)
        return tuple(self._heard(text, sentence) for sentence in cut)

    def _heard(self, text: str, sentence: Sentence) -> Heard:
        seen = self._seen(sentence)
        taken_back = [one for one in seen.get(("correcting",), ()) if one.places[-1] + 1 < len(sentence.words)]
        if taken_back:
            words = sentence.words[taken_back[-1].places[-1] + 1 :]
            sentence = Sentence(words, sentence.asked, words[0].start, sentence.end)
            seen = self._seen(sentence)
        sentence = _parted(sentence, seen)
        none = frozenset[int]()
        heard = Heard(text, sentence, seen, none, none, none, none, none, none)
        regions = (frozenset(region(heard)) for region in (_asked, _doubted, _supposed, _elsewhere, _beside, _hearsay))
        return Heard(text, sentence, seen, *regions)

    def _seen(self, sentence: Sentence) -> dict[Key, tuple[Sighting, ...]]:
        listed: dict[Key, list[Sighting]] = {}
        for one in self._sighter.find([spoken.word for spoken in sentence.words]):
            listed.setdefault(one.key, []).append(one)
        return {key: tuple(longest(found)) for key, found in listed.items()}


def _parted(sentence: Sentence, seen: dict[Key, tuple[Sighting, ...]]) -> Sentence:
    """The sentence with a clause of its own for each part that is named behind what was said of another one."""
    abouts = [(one.start, key[1]) for key, listed in seen.items() if key[0] == "about" for one in listed]
    named: dict[int, set[str]] = {}
    for place, check in abouts:
        named.setdefault(place, set()).add(check)
    states = {(one.start, key[1]) for key, listed in seen.items() if key[0] == "outcome" for one in listed}
    covered = {
        place for key, listed in seen.items() if key[0] == "answer" for one in listed for place in one.places[1:]
    }
    words, more, last = list(sentence.words), 0, set[str]()
    told = False
    for place, word in enumerate(words):
        told = told and place > 0 and word.clause == sentence.words[place - 1].clause
        if place in named and told and not named[place] & last and place not in covered:
            more, told = more + 1, False
        last = named.get(place, last)
        told = told or any((place, check) in states for check in last)
        words[place] = replace(word, clause=word.clause + more)
    return Sentence(tuple(words), sentence.asked, sentence.start, sentence.end)


def _patterns(book: Phrasebook) -> dict[Key, tuple[str, ...]]:
    speech: Speech = book.speech
    patterns: dict[Key, tuple[str, ...]] = {(name,): getattr(speech, name) for name in _SAID}
    tools = {tool: _plural(phrases) for tool, phrases in speech.tools.items()}
    for name, listed in (("tools", tools), ("ask", speech.ask), ("do", speech.do), ("pulleys", speech.pulleys)):
        patterns |= {(name, one): phrases for one, phrases in listed.items()}
    patterns |= {("cylinders", count): phrases for count, phrases in speech.cylinders.items()}
    for check, words in book.wording.checks.items():
        patterns["about", check] = _plural(words.about)
        patterns["covers", check] = _plural(words.covers)
        patterns |= {("outcome", check, one): book.wording.free(check, one) for one in words.outcomes}
        patterns |= {("answer", check, one): book.wording.patterns(check, one) for one in words.outcomes}
    return patterns


def _plural(patterns: Iterable[str]) -> tuple[str, ...]:
    """The patterns, their last word in singular and plural."""
    every = [pattern.rpartition(" ") for pattern in patterns]
    return tuple(before + space + "|".join(_forms(last)) for before, space, last in every)


def _forms(alternatives: str) -> Iterator[str]:
    for one in alternatives.split("|"):
        yield one
        if not one.endswith(("s", "-")):
            yield f"{one}s"


def opening(places: Iterable[int], filler: frozenset[int]) -> Iterator[int]:
    """The places up to the first one that says something."""
    for place in places:
        yield place
        if place not in filler:
            return


def _asked(heard: Heard) -> Iterator[int]:
    """The places of a question: from the word that begins it to the end of the sentence."""
    filler, words = heard.places("filler"), heard.sentence.words
    clauses = map(heard.sentence.clause, range(heard.sentence.clauses))
    openings = {place for clause in clauses for place in opening(clause, filler)}
    whole = [one for one in heard.under("ask") if heard.clause(one.start) == heard.clause(one.places[-1])]
    begins = [one.start for one in (*heard.sightings("questions"), *whole) if one.start in openings]
    begins += [one.start for one in heard.sightings("asking")]
    plain = {one.start for one in heard.sightings("no_question")}
    begins += [one.start for one in heard.sightings("turned") if _leads(heard, one)]
    begins = [place for place in begins if place not in plain or heard.sentence.asked]
    if heard.sentence.asked and not begins:
        begins = [0]
    return iter(range(min(begins), len(words)) if begins else ())


def _leads(heard: Heard, turned: Sighting) -> bool:
    """Whether a sentence begins so, but for a word that joins it to the one before."""
    before = [word.word for word in heard.sentence.words[: turned.start]]
    return all(word in _LEADING for word in before)


def _supposed(heard: Heard) -> Iterator[int]:
    """The places of what is only thought of."""
    words = heard.sentence.words
    for one in heard.sightings("supposing"):
        yield from range(one.start, len(words))


def _elsewhere(heard: Heard) -> Iterator[int]:
    """The places of what is about another time or vehicle, or about what should be."""
    for one in heard.sightings("elsewhere"):
        yield from heard.sentence.clause(heard.clause(one.start))


def _beside(heard: Heard) -> Iterator[int]:
    """The places of clauses about another subject."""
    for one in heard.sightings("beside"):
        yield from heard.sentence.clause(heard.clause(one.start))


def _hearsay(heard: Heard) -> Iterator[int]:
    """The places behind a word that somebody else said it."""
    for one in heard.sightings("hearsay"):
        yield from range(one.start, len(heard.sentence.words))


def _doubted(heard: Heard) -> Iterator[int]:
    """The places of a doubt: its clause, and the sentence where its clause says nothing else."""
    states = list(heard.under("outcome"))
    for one in (*heard.sightings("doubting"), *heard.sightings("unsure")):
        clause = heard.sentence.clause(heard.clause(one.start))
        alone = not any(state.key[0] == "outcome" for state in within(states, set(clause) - set(one.places)))
        subject = any(True for _ in within(heard.under("about"), clause))
        yield from range(len(heard.sentence.words)) if alone and not subject else clause
