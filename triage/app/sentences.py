"""What understands sentences in a session: loaded when a line is first not understood, and kept while that is used.

The wording is that of the program; a session uses the knowledge that it began with, which may be older. So the wording
is cut to what that knowledge has.
"""

from typing import TYPE_CHECKING

from triage.knowledge.shipped import trees_folder
from triage.listening.items import Symptom

if TYPE_CHECKING:
    from collections.abc import Sequence

    from triage.knowledge.models import Knowledge
    from triage.knowledge.wording.matching import Match
    from triage.listening.listener import Listener
    from triage.listening.phrasebook import CheckWords, Phrasebook
    from triage.listening.vague import Split

NAMED = 0.6
"""From memory: the score of a complaint that names the noise and one thing about it."""
_last: list["tuple[Knowledge, Listener]"] = []
"""One at most: a program works on one session at a time."""


def listener_of(knowledge: "Knowledge") -> "Listener":
    """Return what understands sentences about this knowledge.

    Raises:
        DocumentFaulty: a file of wording cannot be read or has not the right shape.
    """
    if _last and _last[0][0] is knowledge:
        return _last[0][1]
    from triage.knowledge.wording.matching import Matcher
    from triage.knowledge.wording.words import load_words
    from triage.listening.listener import Listener
    from triage.listening.phrasebook import load_phrasebook

    book = fitted(load_phrasebook(trees_folder()), knowledge)
    listener = Listener(knowledge, book, Matcher(load_words(trees_folder()), knowledge.trees))
    _last[:] = [(knowledge, listener)]
    return listener


def symptoms_said(knowledge: "Knowledge", words: str, matches: "Sequence[Match]") -> "tuple[Match, ...]":
    """The symptoms that a complaint may mean, those first that it names apart from what was found, done or asked.

    Args:
        knowledge: what the session is to use.
        words: the complaint.
        matches: what its words fit, taken all together.
    """
    from triage.knowledge.wording.matching import Match

    items = listener_of(knowledge).understand(words, None, "start").items
    scores = {one.symptom: one.score for one in matches}
    named = [item.symptom for item in items if isinstance(item, Symptom)]
    first = [Match(symptom, scores.get(symptom, NAMED)) for symptom in named]
    return (*first, *(one for one in matches if one.symptom not in named))


def split_of(words: str) -> "Split | None":
    """The question that splits a complaint which says too little; None for any other."""
    from triage.listening.vague import load_vague

    return load_vague(trees_folder()).split(words)


def fitted(book: "Phrasebook", knowledge: "Knowledge") -> "Phrasebook":
    """A phrasebook without what this knowledge does not have."""
    known = {
        check: _fitted(words, {outcome.id for outcome in knowledge.checks[check].outcomes})
        for check, words in book.wording.checks.items()
        if check in knowledge.checks
    }
    tools = {tool: words for tool, words in book.speech.tools.items() if tool in knowledge.tools}
    wording = book.wording.model_copy(update={"checks": known})
    return book.model_copy(update={"wording": wording, "speech": book.speech.model_copy(update={"tools": tools})})


def _fitted(words: "CheckWords", outcomes: set[str]) -> "CheckWords":
    meant = {word: None for word, outcome in words.meant.items() if outcome not in outcomes}
    lists = {
        name: {outcome: said for outcome, said in listed.items() if outcome in outcomes}
        for name, listed in (("outcomes", words.outcomes), ("on_screen", words.on_screen))
    }
    return words.model_copy(update={**lists, **meant})
