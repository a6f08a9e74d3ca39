"""Which check somebody asks for in words: by what the phrase book calls it, else by the words of its name."""

import re
from collections.abc import Collection
from typing import Final

from triage.knowledge.models import Knowledge
from triage.listening.listener import Listener

_PLAIN: Final = frozenset(
    re.findall(
        r"\w+",
        "a an the of at in on for to and or with is it what how does do check look listen measure test try feel make "
        "see let me i want would like now please next again type",
    )
)
ENOUGH: Final = 0.5
"""Likeness from which a check may be meant. From memory."""


def asked_for(knowledge: Knowledge, listener: Listener, line: str, among: Collection[str]) -> tuple[str, ...]:
    """The checks that a line may ask for, the likeliest alone where one is ahead of the others.

    Args:
        knowledge: names of checks.
        listener: knows what checks are called.
        line: as it was typed.
        among: the checks that may be meant.
    """
    said = _words(line)
    named = listener.subjects(line)
    many = max(len(said), 1)
    scores = {
        check: _likeness(_words(knowledge.checks[check].name), said) + named.get(check, 0) / many for check in among
    }
    best = max(scores.values(), default=0.0)
    return tuple(check for check, score in scores.items() if score == best) if best >= ENOUGH else ()


def _likeness(name: frozenset[str], said: frozenset[str]) -> float:
    """What share of what was said the name has, and, for less, what share of the name was said."""
    both = len(name & said)
    return both / len(said) + both / len(name) / 2 if both else 0.0


def _words(text: str) -> frozenset[str]:
    """Words that say something, in the singular."""
    found = re.findall(r"[a-z0-9]+", text.lower())
    return frozenset(one.removesuffix("s") for one in found if one not in _PLAIN)
