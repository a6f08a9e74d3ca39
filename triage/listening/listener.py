"""What a typed sentence says: the one place that turns words into items."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from triage.knowledge.models import Check, Knowledge
from triage.knowledge.wording.matching import LONGEST, Matcher
from triage.listening.amounts import in_figures, one_decimal
from triage.listening.facts import facts_in
from triage.listening.findings import Outcomes
from triage.listening.hearing import Ear, Heard
from triage.listening.items import Cannot, Do, Finding, Item, Nothing, Reading, Reply, Symptom, ToolMissing
from triage.listening.leading import asked_in, begins, control_in
from triage.listening.obstacles import cannot_be_made, plainly_cannot, tools_missing
from triage.listening.phrasebook import Phrasebook
from triage.listening.readings import reading_of
from triage.listening.said_back import said_back
from triage.listening.sighting import Sighting, within

At = Literal["session", "start"]
_OFFERED: Final = 3
"""Meanings that are offered where nothing was taken; more only fill the line."""
_SUBJECTS: Final = frozenset({"it", "they", "i", "we", "he", "she", "there", "that"})
"""Words that begin what goes on behind a yes or a no."""
_ALONE: Final = 0.6
"""Score of a clause that names a symptom of its own: a noise and one thing about it. From memory."""


@dataclass(frozen=True)
class Understood:
    """What a text says, and the same in words, to be accepted before it counts.

    Args:
        items: what it says.
        said_back: the same in words.
        near: what may have been meant where it was not plainly said, the likelier first.
    """

    items: tuple[Item, ...]
    said_back: str
    near: tuple[Finding, ...] = ()


class Listener:
    """Understands by the wording of one folder of knowledge; the same text always says the same."""

    def __init__(self, knowledge: Knowledge, book: Phrasebook, matcher: Matcher) -> None:
        """Prepare every pattern."""
        self._knowledge = knowledge
        self._words = book.wording.checks
        self._ear = Ear(book)
        self._outcomes = Outcomes(knowledge, book.wording)
        self._matcher = matcher

    def understand(self, text: str, check: str | None = None, at: At = "session") -> Understood:
        """Say what a text says; `Nothing` where it is not understood.

        Args:
            text: as it was typed.
            check: id of the check on screen; None where none is.
            at: whether the session runs, or its complaint is being said.
        """
        heard = self._ear.hear(text) if len(text) <= LONGEST else ()
        on_screen = self._knowledge.checks.get(check or "")
        found = dict.fromkeys(self._items(heard, on_screen, at))
        items = tuple(found) or (Nothing(),)
        near = self._near(heard, on_screen)
        return Understood(items, said_back(self._knowledge, items, near), tuple(near))

    def _near(self, heard: tuple[Heard, ...], check: Check | None) -> list[Finding]:
        """What may have been meant: outcomes seen and not taken, else the few that the check on screen has."""
        seen = [one for part in heard for one in self._outcomes.named(part, check.id if check else "").left]
        few = [Finding(check.id, outcome.id) for outcome in check.outcomes] if check else []
        return seen[:_OFFERED] or (few if len(few) <= _OFFERED else [])

    def _items(self, heard: tuple[Heard, ...], on_screen: Check | None, at: At) -> Iterator[Item]:
        if at != "start" and any(begins(one, one.sightings("refused")) for one in heard):
            return
        asked_of = on_screen is not None and on_screen.way == "ask"
        if at != "start" and not asked_of and any(one.sightings("recorded") for one in heard):
            return
        symptoms = list(self._symptoms(heard)) if at == "start" else []
        yield from symptoms
        said = [item for one in heard for item in self._said(one, on_screen, at)]
        if at == "start":
            said = [item for item in said if not self._idle(item, symptoms)]
        yield from said
        yield from self._replies(heard, on_screen, said)

    def _idle(self, item: Item, symptoms: Iterable[Symptom]) -> bool:
        """Whether an item is a moment for which no tree of these symptoms asks."""
        if not isinstance(item, Finding) or not self._words[item.check].moment:
            return False
        trees = (self._knowledge.trees[one.symptom] for one in symptoms)
        return not any(node.check == item.check for tree in trees for node in tree.nodes.values())

    def _said(self, heard: Heard, check: Check | None, at: At) -> Iterator[Item]:
        """What one sentence says, but for yes, no and doubts."""
        readings = self._readings(heard, check)
        control = None if readings else control_in(heard)
        if control and not (control.word == "cannot" and check):
            yield control
            return
        asked = asked_in(heard)
        named = self._outcomes.named(heard, check.id if check else "", complaint=at == "start")
        measured = {one.check for one in readings}
        tools = tools_missing(heard, check)
        unmade = check.id if check and tools else ""
        findings = [one for one in named.findings if one.check not in measured and one.check != unmade]
        answered = measured | {one.check for one in findings}
        if check and not asked and (plainly_cannot(heard) or not (tools or named.doubted or check.id in answered)):
            cannot = list(cannot_be_made(heard, check))
            findings, tools = ([one for one in findings if one.check != check.id], []) if cannot else (findings, tools)
            yield from cannot
        yield from readings
        yield from findings
        yield from facts_in(heard, check, complaint=at == "start")
        yield from tools
        if asked:
            yield asked

    def _readings(self, heard: Heard, check: Check | None) -> list[Reading]:
        """The reading of the check on screen, else of the one that the sentence names best."""
        if (
            heard.asked
            or heard.supposed
            or heard.elsewhere
            or heard.doubted
            or heard.beside
            or heard.sightings("printed")
        ):
            return []
        bare = check is not None and (self._only_numbers(heard, check) or one_decimal(heard.typed))
        own = reading_of(check, heard, bare=bare) if check else None
        if own and check:
            start = heard.text.find(own.text)
            strange = start >= 0 and self._outcomes.about_another(heard, check.id, start, start + len(own.text))
            return [] if strange else [own]
        weights: dict[str, int] = {}
        for one in heard.under("about"):
            weights[one.key[1]] = max(one.weight, weights.get(one.key[1], 0))
        named = {known: reading_of(self._knowledge.checks[known], heard, bare=False) for known in weights}
        fitting = sorted((weights[known], known) for known, reading in named.items() if reading)
        if not fitting or (len(fitting) > 1 and fitting[-2][0] == fitting[-1][0]):
            return []
        best = named[fitting[-1][1]]
        return [best] if best else []

    def _only_numbers(self, heard: Heard, check: Check) -> bool:
        """Whether a sentence is numbers, words that ask for them, and words that say nothing."""
        ways = check.reading.ways if check.reading else ()
        asked = {word for way in ways for part in way.parts for word in part.ask.lower().replace("'s", "").split()}
        filler = heard.places("filler")
        rest = [word.word for place, word in enumerate(heard.sentence.words) if place not in filler]
        return all(word[0].isdigit() or word in asked or in_figures(word) != word for word in rest)

    def _symptoms(self, heard: tuple[Heard, ...]) -> Iterator[Symptom]:
        """The symptom that fits the complaint best, and others that a clause of it names by itself."""
        clauses = [clause for one in heard for clause in self._complaints(one, found=False)]
        matches = self._matcher.match(", ".join(clauses))
        if not matches:
            found = [clause for one in heard for clause in self._complaints(one, found=True)]
            matches = self._matcher.match(", ".join(found))
        if matches:
            yield Symptom(matches[0].symptom)
        if len(clauses) > 1:
            alone = (self._matcher.match(clause) for clause in clauses)
            best = [one[0].symptom for one in alone if one and one[0].score >= _ALONE]
            yield from (Symptom(one) for one in best if matches)

    def _complaints(self, heard: Heard, *, found: bool) -> Iterator[str]:
        """The clauses that are about now and tell no facts of the vehicle, with or without those that tell findings."""
        numbers = {word.clause for word in heard.sentence.words if word.word[0].isdigit()}
        told = (*heard.under("cylinders"), *heard.sightings("odometer"))
        facts = {heard.clause(one.start) for one in told} & numbers
        facts |= {heard.clause(one.start) for one in heard.under("pulleys")}
        facts |= {heard.clause(place) for place in heard.elsewhere | heard.asked}
        facts |= set() if found else self._outcomes.named(heard, "", complaint=True).clauses
        for clause in range(heard.sentence.clauses):
            if clause not in facts:
                yield heard.said(heard.sentence.clause(clause))

    def _replies(self, heard: Iterable[Heard], check: Check | None, said: list[Item]) -> Iterator[Item]:
        """Yes, no and doubts: the outcome that they are for the check on screen, else themselves."""
        meant = self._words[check.id].meant if check and check.id in self._words else {}
        if any(isinstance(one, Reading | Cannot | Do | ToolMissing) for one in said) or (
            check and any(isinstance(one, Finding) and one.check == check.id for one in said)
        ):
            return
        for one in heard:
            reply = self._reply(one, check)
            if not reply or (reply == "unsure" and said):
                continue
            if check and reply in meant:
                yield Finding(check.id, meant[reply])
            else:
                kind: Literal["yes", "no", "not-sure"] = (
                    "yes" if reply == "yes" else "no" if reply == "no" else "not-sure"
                )
                yield Reply(kind)
            return

    def _reply(self, heard: Heard, check: Check | None) -> str:
        asked = bool(heard.asked)
        if not asked and (
            heard.sightings("unsure")
            or (check and self._outcomes.named(heard, check.id).doubted)
            or (check and check.reading and heard.doubted and any(character.isdigit() for character in heard.typed))
        ):
            return "unsure"
        filler = heard.places("filler")
        first = _first(heard)
        for word in () if heard.beside else ("yes", "no"):
            said = [one for one in within(heard.sightings(word), first) if first and not asked]
            places = {place for one in said for place in one.places}
            if check and check.id in self._words and word in self._words[check.id].meant and _goes_on(heard, said):
                return word
            if said and not (set(first) - places - filler) and not (heard.doubted & places):
                return word
        return ""


def _first(heard: Heard) -> tuple[int, ...]:
    """The first clause that says something: "ok, so no"."""
    idle = heard.places("filler") - heard.places("yes") - heard.places("no") | heard.places("good")
    clauses = map(heard.sentence.clause, range(heard.sentence.clauses))
    return next((clause for clause in clauses if set(clause) - idle - _joined(heard)), heard.sentence.clause(0))


def _joined(heard: Heard) -> set[int]:
    return {place for place, word in enumerate(heard.sentence.words) if word.word in ("so", "then", "and", "but")}


def _goes_on(heard: Heard, said: list[Sighting]) -> bool:
    """Whether a sentence begins with a yes or no of its own: "yeah it chirps", but not "no leaks"."""
    words = [word.word for word in heard.sentence.words]
    return any(one.places == (0,) for one in said) and words[1:2] != [] and words[1] in _SUBJECTS and not heard.doubted
