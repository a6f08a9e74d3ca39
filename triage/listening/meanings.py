"""What words of the trade mean, and where parts are found: asked by those who learn."""

from pathlib import Path
from typing import Final

from triage.documents import Model, build
from triage.documents.reading import read_document
from triage.listening.phrasebook import FOLDER

MEANINGS: Final = "meanings.yaml"


class Meaning(Model):
    """One word, or several for the same.

    Args:
        names: how it is said, in small letters and without hyphens.
        means: what it is.
        where: where a part is found; none for what is no part.
    """

    names: tuple[str, ...]
    means: str
    where: str | None = None


class Meanings(Model):
    """All of them."""

    words: tuple[Meaning, ...]

    def named(self, text: str, *, placed: bool = False) -> Meaning | None:
        """What a text names, the longest name first; of equally long ones the last that is named.

        Args:
            text: what somebody typed, or a text of the trees.
            placed: whether only parts with a place count.
        """
        said = f" {' '.join(''.join(c if c.isalnum() else ' ' for c in text.lower()).split())} "
        found = [
            (name.count(" "), said.rfind(f" {name} "), meaning)
            for meaning in self.words
            if meaning.where or not placed
            for name in meaning.names
            if f" {name} " in said
        ]
        return max(found, key=lambda one: one[:2])[2] if found else None


def load_meanings(folder: Path) -> Meanings:
    """Read the meanings of a folder of knowledge.

    Raises:
        DocumentFaulty: the file cannot be read or has not the right shape.
    """
    return build(read_document(folder / FOLDER / MEANINGS), Meanings)
