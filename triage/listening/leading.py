"""Questions, and the words that lead through a session."""

from collections.abc import Iterable
from typing import Final, get_args

from triage.listening.hearing import Heard, opening
from triage.listening.items import About, Asked, Control, Do
from triage.listening.sighting import Sighting

_SHORT: Final = 2
"""Words besides those that say nothing which a sentence may have where one word leads: "pause now"."""


_NAMING: Final = frozenset({"a", "an", "the", "my", "your", "his", "her", "our"})
"""Words behind which a word is a thing: "my back hurts"."""


def begins(heard: Heard, sightings: Iterable[Sighting]) -> list[Sighting]:
    """Those with which a sentence begins, but for words that say nothing."""
    first = frozenset(opening(range(len(heard.sentence.words)), heard.places("filler")))
    return [one for one in sightings if one.start in first]


def asked_in(heard: Heard) -> Asked | None:
    """The question of a sentence: the longest of those seen in it."""
    seen = [one for one in heard.under("ask") if one.start in heard.asked]
    best = max(seen, key=lambda one: (one.weight, one.start - one.places[-1], -one.start), default=None)
    about = _about(best.key[1]) if best else None
    if heard.asked and heard.supposed and about in (None, "next", "why"):
        return Asked("what-if")
    if (best is None or (about in _LOOSE and best.weight < _SHORT)) and heard.asked and _names(heard):
        return Asked("meaning")
    return Asked(about) if about else None


def control_in(heard: Heard) -> Do | None:
    """The word that leads through the session, where the sentence begins with it."""
    filler = heard.places("filler")
    rest = len(heard.sentence.words) - len(filler)
    every = [*begins(heard, heard.under("do")), *_named_first(heard)]
    seen = [one for one in every if one.weight > 1 or one.key[1] == "note" or rest <= _SHORT]
    best = max(seen, key=lambda one: one.weight, default=None)
    if best is None or best.start in heard.supposed | heard.elsewhere or heard.negated(best):
        return None
    if best.start in heard.asked and not _politely(heard, best):
        return None
    if best.start and heard.sentence.words[best.start - 1].word in _NAMING:
        return None
    return Do(_CONTROLS[best.key[1]])


def _named_first(heard: Heard) -> list[Sighting]:
    """Who takes over, said first: "Jim takes over"."""
    return [one for one in heard.under("do") if one.key[1] == "hand-over" and one.start == 1 and one.weight > 1]


def _politely(heard: Heard, control: Sighting) -> bool:
    """Whether a word that leads is asked for: "can we go back"."""
    return all(word.word in _POLITE for word in heard.sentence.words[: control.start])


_POLITE: Final = frozenset(
    {"can", "could", "shall", "may", "would", "you", "i", "we", "please", "just", "now", "us", "it"}
)
_ABOUTS: Final[dict[str, About]] = {about: about for about in get_args(About)}
_CONTROLS: Final[dict[str, Control]] = {control: control for control in get_args(Control)}
_LOOSE: Final[tuple[About, ...]] = ("how",)


def _about(name: str) -> About:
    return _ABOUTS[name]


def _names(heard: Heard) -> bool:
    """Whether a question is "what is" and a word or two."""
    words = [heard.sentence.words[place].word for place in sorted(heard.asked)]
    return words[:2] in (["what", "is"], ["what", "are"]) and _SHORT < len(words) <= 2 * _SHORT
