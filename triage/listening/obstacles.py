"""Why a check cannot be made: a tool that is not at hand, or something else in the way."""

from collections.abc import Iterable, Iterator
from typing import Final

from triage.knowledge.models import Check
from triage.listening.hearing import Heard
from triage.listening.items import Cannot, ToolMissing
from triage.listening.sighting import Sighting, longest

_NEAR: Final = 2
"""Words between a "no" and the tool that it is about: "no big old straightedge"."""


def tools_missing(heard: Heard, check: Check | None) -> list[ToolMissing]:
    """The tools that are not at hand; where the check on screen needs one of them, that one alone.

    Args:
        heard: the sentence.
        check: the check on screen.
    """
    needed = needed_for(check) if check else set()
    seen = [
        one
        for one in heard.under("tools")
        if _said(heard, one) and one.start not in heard.doubted and _lacking(heard, one)
    ]
    wanted = [one for one in seen if one.key[1] in needed]
    return [ToolMissing(tool) for tool in dict.fromkeys(one.key[1] for one in (wanted or longest(seen)))]


def needed_for(check: Check) -> set[str]:
    """The tools of a check and of every way of its reading."""
    ways = check.reading.ways if check.reading else ()
    own = {part.instrument for way in ways for part in way.parts if part.instrument}
    return {*check.tools, *(way.instrument for way in ways), *own}


def cannot_be_made(heard: Heard, check: Check) -> Iterator[Cannot]:
    """That the check on screen cannot be made, with the reason."""
    doubts = heard.places("unsure")
    every = (*heard.sightings("cannot"), *heard.sightings("obstacle"))
    seen = [one for one in every if _said(heard, one) and doubts.isdisjoint(one.places)]
    unsure = heard.sightings("unsure") and not any(one.key == ("cannot",) for one in seen)
    if seen and not heard.asked and (plainly_cannot(heard) or not unsure):
        yield Cannot(check.id, _reason(heard, seen))


def plainly_cannot(heard: Heard) -> bool:
    """Whether both are said: that it cannot be, and what is in the way."""
    sightings = (heard.sightings("cannot"), heard.sightings("obstacle"))
    return all(any(_said(heard, one) for one in seen) for seen in sightings) and not heard.asked


def _said(heard: Heard, one: Sighting) -> bool:
    return one.start not in heard.supposed | heard.elsewhere | heard.asked


def _lacking(heard: Heard, tool: Sighting) -> bool:
    clause = heard.sentence.clause(heard.clause(tool.start))
    words = heard.sentence.words
    before = [words[place].word for place in range(max(0, tool.start - 1 - _NEAR), tool.start)]
    return "no" in before or "without" in before or any(one.start in clause for one in heard.sightings("lacking"))


def _reason(heard: Heard, seen: Iterable[Sighting]) -> str | None:
    """Why not: what is in the way, else what is said beside, else all of it; None where no more was said than that."""
    named = [one for one in seen if one.key == ("obstacle",)]
    clauses = {heard.clause(one.start) for one in named} or (
        set(range(heard.sentence.clauses)) - {heard.clause(one.start) for one in seen}
    )
    places = [place for place, word in enumerate(heard.sentence.words) if word.clause in clauses]
    if places:
        return heard.said(places)
    words = {place for one in seen for place in one.places}
    rest = set(range(len(heard.sentence.words))) - words - heard.places("filler")
    return heard.said(range(len(heard.sentence.words))) if rest or len(words) > 1 else None
