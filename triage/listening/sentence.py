"""A text cut into words that keep their places, in sentences and clauses."""

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

_WORD: Final = re.compile(r"a/c|[0-9]+(?:[.,/][0-9]+)*|[^\W\d_]+(?:['’][^\W\d_]+)*", re.IGNORECASE)
_ENDS: Final = re.compile(r"[!?\n]|\.(?=\s)")
_PARTS: Final = re.compile(r"[,;:()–—]|\s-+\s|\.\.+")
_OWNING: Final = re.compile("['’][sS]$")
_DRAWN_OUT: Final = re.compile(r"([a-z])\1{2,}")

Mend = Callable[[Sequence[str]], list[str]]
"""What puts right words in the place of misspelled ones."""


@dataclass(frozen=True)
class Spoken:
    """One word: as it is understood, and where it stands in the text."""

    word: str
    start: int
    end: int
    clause: int


@dataclass(frozen=True)
class Sentence:
    """The words of one sentence and where it stands; `asked` where it ends in a question mark."""

    words: tuple[Spoken, ...]
    asked: bool
    start: int
    end: int

    @property
    def clauses(self) -> int:
        """How many clauses it has."""
        return self.words[-1].clause + 1 if self.words else 0

    def clause(self, at: int) -> tuple[int, ...]:
        """The places of the words of a clause."""
        return tuple(place for place, spoken in enumerate(self.words) if spoken.clause == at)


def sentences(
    text: str, short_forms: Mapping[str, str], joins: frozenset[str], correct: Mend, denied: Mend
) -> tuple[Sentence, ...]:
    """Cut a text.

    Args:
        text: as it was typed.
        short_forms: what a word stands for, such as "isnt": "is not".
        joins: words that begin a clause.
        correct: puts recognised words in the place of misspelled ones.
        denied: the same for short forms that deny: a slip there would turn the sentence round.
    """
    raw = [(found.group(), found.start(), found.end()) for found in _WORD.finditer(text)]
    known = [_known(word, short_forms, correct, denied) for word, _, _ in raw]
    made: list[Sentence] = []
    words: list[Spoken] = []
    clause = before = begun = 0
    for (_, start, end), word in zip(raw, known, strict=True):
        between = text[before:start]
        if words and (ended := _ENDS.search(between)):
            made.append(Sentence(tuple(words), "?" in between, begun, before + ended.start()))
            words, clause, begun = [], 0, before + ended.end()
        elif words and (_PARTS.search(between) or (word in joins and words[-1].word not in joins)):
            clause += 1
        words += [Spoken(one, start, end, clause) for one in word.split()]
        before = end
    if words:
        made.append(Sentence(tuple(words), "?" in text[before:], begun, len(text)))
    return tuple(made)


def _known(typed: str, short_forms: Mapping[str, str], correct: Mend, denied: Mend) -> str:
    """The word or words that one typed word is: "isn't" and "isnt" are "is not", "pump's" is "pump is"."""
    word = _plain(typed)
    if word in short_forms:
        return short_forms[word]
    if (meant := denied([word])[0]) in short_forms:
        return short_forms[meant]
    if _OWNING.search(typed):
        return f"{correct([word[:-1]])[0]} is"
    return correct([word])[0]


def words_of(pattern: str) -> Iterator[str]:
    """The words of a pattern, beginnings of words without their mark."""
    for place in pattern.split():
        yield from (one.removesuffix("-") for one in place.split("|"))


def _plain(word: str) -> str:
    letters = unicodedata.normalize("NFKD", word).casefold().replace("’", "").replace("'", "")
    bare = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return _DRAWN_OUT.sub(r"\1\1", bare.replace("a/c", "ac"))
