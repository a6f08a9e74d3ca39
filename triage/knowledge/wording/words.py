"""What people say, and what it speaks for: the words of `words.yaml`, kept apart from what travels in a trace."""

from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Annotated, Self

from pydantic import Field, StringConstraints, model_validator

from triage.documents import Document, Model, build, is_there
from triage.documents.reading import read_document
from triage.errors import DocumentFaulty, Fault
from triage.knowledge.models import Id
from triage.knowledge.nearest import nearest

FILE = "words.yaml"
Pattern = Annotated[str, StringConstraints(pattern=r"^[a-z0-9.]+-?([ |][a-z0-9.]+-?)*$", max_length=400)]


class SymptomWords(Model):
    """Concepts with the patterns that show them, and the points that they give to symptoms.

    A pattern is words in order, with up to two others between them; `squeal-` is every word that begins so, and
    `came|fell` is either of two.

    Source: from-memory, the points; they order proposals that a person confirms and enter no reasoning about causes.
    """

    concepts: dict[Id, tuple[Pattern, ...]]
    symptoms: dict[Id, dict[Id, int]]
    needs: dict[Id, tuple[Id, ...]] = Field(default_factory=dict)
    """For a symptom the concepts of which one must be named before its points count."""
    drive: tuple[Id, ...]
    """Concepts that name the drive itself."""
    beside: tuple[Pattern, ...]
    """Other subjects, which count only where nothing of the drive is named."""
    recognised: tuple[Pattern, ...]
    """Words that are recognised when they are misspelled."""
    plain: tuple[Pattern, ...]
    """Ordinary words that must not be taken for a misspelling."""
    filler: tuple[Pattern, ...]
    """Words that every complaint may hold; likeness to a phrase is measured without them."""
    foreign: tuple[Pattern, ...]
    """Other subjects, whatever else is named."""

    @model_validator(mode="after")
    def _concepts_exist(self) -> Self:
        used = {concept for named in (*self.symptoms.values(), *self.needs.values(), self.drive) for concept in named}
        if strange := sorted(used - set(self.concepts)):
            raise ValueError(f"There is no concept '{strange[0]}'.")
        return self


def load_words(folder: Path) -> SymptomWords:
    """Read the words of a folder of knowledge.

    Raises:
        DocumentFaulty: the file cannot be read or has not the right shape.
    """
    return build(read_document(folder / FILE), SymptomWords)


def check_words(folder: Path, symptoms: Collection[str]) -> tuple[Fault, ...]:
    """Name every fault of a folder's words; a folder without words has none.

    Args:
        folder: what holds words.yaml.
        symptoms: those that have a tree; none where the trees could not be read.
    """
    if not is_there(folder / FILE):
        return ()
    try:
        document = read_document(folder / FILE)
        words = build(document, SymptomWords)
    except DocumentFaulty as error:
        return error.faults
    return tuple(_strange(document, words, symptoms)) if symptoms else ()


def _strange(document: Document, words: SymptomWords, symptoms: Collection[str]) -> Iterator[Fault]:
    for field, named in (("symptoms", words.symptoms), ("needs", words.needs)):
        for symptom in named:
            if symptom not in symptoms:
                place = document.place_of_key((field, symptom))
                yield Fault(place, f"There is no tree for '{symptom}'.", nearest(symptom, symptoms))
