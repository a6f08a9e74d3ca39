"""From a file or a text to plain data, with every fault that can be found in one go."""

from collections.abc import Collection, Iterator
from itertools import islice
from pathlib import Path

from triage.documents.characters import blanked, complaint, unwanted
from triage.documents.composing import Composer
from triage.documents.document import Document
from triage.documents.faults import FAULTS_SHOWN, faulty
from triage.documents.files import SIZE_LIMIT, content_of, too_large
from triage.errors import Fault, Place


def read_document(path: Path, *, name: str | None = None, words: Collection[str] = ()) -> Document:
    """Read a YAML file.

    Args:
        path: the file.
        name: what faults call it; its path when left out.
        words: what is text here without quotes although readers disagree about it.

    Raises:
        DocumentFaulty: it is no ordinary file, cannot be opened, or its text has faults; all that could be found are
            named.
    """
    file = str(path) if name is None else name
    return read_text(content_of(path, file).decode("utf-8", "surrogateescape"), file, words)


def read_text(text: str, name: str, words: Collection[str] = ()) -> Document:
    """Read YAML that is already in memory.

    Args:
        text: one YAML document.
        name: what faults call it.
        words: as above.

    Raises:
        DocumentFaulty: the text has faults; all that could be found are named.
    """
    if len(text) > SIZE_LIMIT:
        raise too_large(name)
    composer = Composer(name, words)
    data = composer.compose(blanked(text))
    faults = [*_character_faults(text, name), *composer.faults]
    if faults:
        raise faulty(faults)
    return Document(data, name, composer.value_marks, composer.key_marks)


def _character_faults(text: str, file: str) -> Iterator[Fault]:
    for position, character in islice(unwanted(text), FAULTS_SHOWN + 1):
        column = position - text.rfind("\n", 0, position)
        yield Fault(Place(file, text.count("\n", 0, position) + 1, column), *complaint(character))
