"""From a file or a text to plain data, with every fault that can be found in one go."""

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Final

from triage.documents.characters import blanked, complaint, unwanted
from triage.documents.composing import Composer
from triage.documents.document import Document
from triage.documents.faults import FAULTS_SHOWN, faulty
from triage.errors import DocumentFaulty, Fault, Place

SIZE_LIMIT: Final = 1024 * 1024
"""Bytes of a file, characters of a text."""


def read_document(path: Path, *, name: str | None = None) -> Document:
    """Read a YAML file.

    Args:
        path: the file.
        name: what faults call it; its path when left out.

    Raises:
        DocumentFaulty: the file cannot be opened, or its text has faults; all that could be found are named.
    """
    file = str(path) if name is None else name
    try:
        with path.open("rb") as stream:
            raw = stream.read(SIZE_LIMIT + 1)
    except (OSError, ValueError) as error:  # a name with a null character is a ValueError
        reason = getattr(error, "strerror", None) or str(error)
        fault = Fault(Place(file, 1, 1), f"The file cannot be read: {reason}.", "Check its name and who may read it.")
        raise faulty([fault]) from error
    if len(raw) > SIZE_LIMIT:
        raise _too_large(file)
    return read_text(raw.decode("utf-8", "surrogateescape"), file)


def read_text(text: str, name: str) -> Document:
    """Read YAML that is already in memory.

    Args:
        text: one YAML document.
        name: what faults call it.

    Raises:
        DocumentFaulty: the text has faults; all that could be found are named.
    """
    if len(text) > SIZE_LIMIT:
        raise _too_large(name)
    composer = Composer(name)
    data = composer.compose(blanked(text))
    faults = [*_character_faults(text, name), *composer.faults]
    if faults:
        raise faulty(faults)
    return Document(data, name, composer.value_marks, composer.key_marks)


def _too_large(file: str) -> DocumentFaulty:
    return faulty([Fault(Place(file, 1, 1), "The file is larger than 1 MiB and was not read.", "Split it.")])


def _character_faults(text: str, file: str) -> Iterator[Fault]:
    for position, character in islice(unwanted(text), FAULTS_SHOWN + 1):
        column = position - text.rfind("\n", 0, position)
        yield Fault(Place(file, text.count("\n", 0, position) + 1, column), *complaint(character))
