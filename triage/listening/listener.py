"""What a typed sentence says: the one place that turns words into items."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from triage.knowledge.models import Check, Knowledge
from triage.knowledge.wording.matching import LONGEST, Matcher
from triage.listening.facts import facts_in
from triage.listening.findings import Outcomes
from triage.listening.hearing import Ear, Heard
from triage.listening.items import Asked, Cannot, Do, Finding, Item, Nothing, Reading, Reply, Symptom, ToolMissing
from triage.listening.phrasebook import Phrasebook
from triage.listening.readings import reading_of
from triage.listening.said_back import said_back
from triage.listening.sighting import Sighting, within

At = Literal["session", "start"]
_ALSO: Final = 0.9
"""Share of the best symptom's score from which another one is named too. From memory."""


@dataclass(frozen=True)
class Understood:
    """What a text says, and the same in words, to be accepted before it counts."""

    items: tuple[Item, ...]
    said_back: str


class Listener:
    """Understands by the wording of one folder of knowledge; the same text always says the same."""

    def __init__(self, knowledge: Knowledge, book: Phrasebook, matcher: Matcher) -> None:
        """Prepare every pattern."""
        self._knowledge = knowledge
        self._words = book.wording.checks
        self._ear = Ear(book)
        self._numbers = book.speech.numbers
        self._outcomes = Outcomes(knowledge, book.wording)
        self._matcher = matcher

    def understand(self, text: str, check: str | None = None, at: At = "session") -> Understood:
        """Say what a text says; `Nothing` where it is not understood.

        Args:
            text: as it was typed.
            check: id of the check on screen; None where none is.
            at: whether the session runs, or its complaint is being said.
        """
        heard = self._ear.hear(self._counted(text)) if len(text) <= LONGEST else ()
        on_screen = self._knowledge.checks.get(check or "")
        found = dict.fromkeys(self._items(heard, on_screen, at))
        items = tuple(found) or (Nothing(),)
        return Understood(items, said_back(self._knowledge, items))

    def _counted(self, text: str) -> str:
        return text

    def _items(self, heard: tuple[Heard, ...], on_screen: Check | None, at: At) -> Iterator[Item]:
        if at != "start" and any(_begins(one, one.sightings("refused")) for one in heard):
            return
        if at == "start":
            yield from self._symptoms(heard)
        said = [item for one in heard for item in self._said(one, on_screen, at)]
        yield from said
        yield from self._replies(heard, on_screen, said)

    def _said(self, heard: Heard, check: Check | None, at: At) -> Iterator[Item]:
        """What one sentence says, but for yes, no and doubts."""
        asked = _asked(heard)
        control = _control(heard)
        if control and not (control.word == "cannot" and check):
            yield control
            return
        reading = self._reading(heard, check)
        named = self._outcomes.named(heard, check.id if check else "", freely=at == "start")
        findings = named.findings
        tool = _tool(heard, check)
        if reading:
            yield reading
            findings = tuple(one for one in findings if one.check != reading.check)
        yield from findings
        yield from facts_in(heard, freely=at == "start")
        if tool:
            yield tool
        elif check and not (reading or asked or named.doubted or any(one.check == check.id for one in findings)):
            yield from _cannot(heard, check)
        if asked:
            yield asked

    def _reading(self, heard: Heard, check: Check | None) -> Reading | None:
        if check is None or heard.asked or heard.supposed or heard.doubted:
            return None
        return reading_of(check, heard, {}, bare=self._only_number(heard))

    def _only_number(self, heard: Heard) -> bool:
        """Whether a sentence is a number and words that say nothing."""
        filler = heard.places("filler")
        rest = [word for place, word in enumerate(heard.sentence.words) if place not in filler]
        return sum(not word.word[0].isdigit() for word in rest) == 0

    def _symptoms(self, heard: tuple[Heard, ...]) -> Iterator[Symptom]:
        if not heard:
            return
        matches = self._matcher.match(_complaint(heard))
        for match in matches:
            if match.score >= matches[0].score * _ALSO:
                yield Symptom(match.symptom)
                return

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
            heard.sightings("unsure") or (check and self._outcomes.named(heard, check.id).doubted)
        ):
            return "unsure"
        first = heard.sentence.clause(0)
        filler = heard.places("filler")
        for word in ("yes", "no"):
            said = [one for one in within(heard.sightings(word), first) if first and not asked]
            places = {place for one in said for place in one.places}
            if said and not (set(first) - places - filler) and not (heard.doubted & places):
                return word
        return ""


def _complaint(heard: tuple[Heard, ...]) -> str:
    """The text without the clauses that tell facts of the vehicle, where others are left."""
    left: list[str] = []
    for one in heard:
        told = (*one.under("cylinders"), *one.sightings("odometer"))
        numbers = {word.clause for word in one.sentence.words if word.word[0].isdigit()}
        facts = {one.clause(sighting.start) for sighting in told} & numbers | {
            one.clause(sighting.start) for sighting in one.under("pulleys")
        }
        clauses = [one.sentence.clause(clause) for clause in range(one.sentence.clauses) if clause not in facts]
        left += [one.said(clause) for clause in clauses]
    return ", ".join(left)


def _asked(heard: Heard) -> Asked | None:
    """The question of a sentence: the longest of those seen in it."""
    seen = [one for one in heard.under("ask") if one.start in heard.asked]
    best = max(seen, key=lambda one: (one.weight, one.start - one.places[-1], -one.start), default=None)
    return Asked(best.key[1]) if best else None  # type: ignore[arg-type]  # the keys are those of the phrase book


def _control(heard: Heard) -> Do | None:
    """The word that leads through the session, where the sentence begins with it."""
    best = max(_begins(heard, heard.under("do")), key=lambda one: one.weight, default=None)
    if best is None or heard.asked or heard.supposed or heard.negated(best):
        return None
    return Do(best.key[1])  # type: ignore[arg-type]  # as above


def _begins(heard: Heard, sightings: Iterable[Sighting]) -> list[Sighting]:
    """Those with which a sentence begins, but for words that say nothing."""
    filler = heard.places("filler")
    first = next((place for place in range(len(heard.sentence.words)) if place not in filler), 0)
    return [one for one in sightings if one.start in (0, first)]


def _tool(heard: Heard, check: Check | None) -> ToolMissing | None:
    """The tool that is not at hand, of several the one that the check on screen needs."""
    seen = [one for one in heard.under("tools") if not heard.unsaid(one) and _lacking(heard, one)]
    needed = _needed(check) if check else set()
    best = max(seen, key=lambda one: (one.key[1] in needed, one.weight), default=None)
    return ToolMissing(best.key[1]) if best else None


def _lacking(heard: Heard, tool: Sighting) -> bool:
    clause = heard.sentence.clause(heard.clause(tool.start))
    return heard.negated(tool) or any(True for _ in within(heard.sightings("lacking"), clause))


def _needed(check: Check) -> set[str]:
    ways = check.reading.ways if check.reading else ()
    own = {part.instrument for way in ways for part in way.parts if part.instrument}
    return {*check.tools, *(way.instrument for way in ways), *own}


def _cannot(heard: Heard, check: Check) -> Iterator[Cannot]:
    seen = [one for one in heard.sightings("cannot") if not heard.unsaid(one) or one.start not in heard.asked]
    if seen and not heard.asked and not heard.supposed and not heard.sightings("unsure"):
        yield Cannot(check.id, _reason(heard, seen))


def _reason(heard: Heard, seen: list[Sighting]) -> str | None:
    """Why not: what is said beside that it cannot be, else all of it; None where no more than a word was said."""
    said = {heard.clause(one.start) for one in seen}
    beside = [place for place, word in enumerate(heard.sentence.words) if word.clause not in said]
    if beside:
        return heard.said(beside)
    places = {place for one in seen for place in one.places} | heard.places("filler")
    every = range(len(heard.sentence.words))
    return heard.said(every) if set(every) - places or len(places) > 1 else None
