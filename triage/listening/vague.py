"""Complaints that say too little, and the question that splits them."""

from pathlib import Path
from typing import Final

from pydantic import Field

from triage.documents import Model, build
from triage.documents.reading import read_document
from triage.knowledge.models import Id
from triage.listening.phrasebook import FOLDER

VAGUE: Final = "vague.yaml"


class Split(Model):
    """One kind of complaint.

    Args:
        said: words of which one is there.
        ask: the question.
        answers: what the customer may mean, by symptom.
    """

    said: tuple[str, ...]
    ask: str
    answers: dict[Id, str]


class Vague(Model):
    """All of them."""

    with_: tuple[str, ...] = Field(alias="with")
    """Words that say nothing more."""
    complaints: tuple[Split, ...]

    def split(self, text: str) -> Split | None:
        """The question for a complaint that says no more than that something is there; None for any other."""
        words = {word.strip(".,;:!?'\"") for word in text.lower().split()} - {""}
        for one in self.complaints:
            if words & set(one.said) and words <= {*one.said, *self.with_}:
                return one
        return None


def load_vague(folder: Path) -> Vague:
    """Read them from a folder of knowledge.

    Raises:
        DocumentFaulty: the file cannot be read or has not the right shape.
    """
    return build(read_document(folder / FOLDER / VAGUE), Vague)
