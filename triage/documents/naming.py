"""Keys, parts and values of a document, named within a sentence; nothing that a terminal would act on comes through."""

import re
from collections.abc import Sequence

from triage.documents.document import Step

_LENGTH = 40


def word(text: str) -> str:
    """Name a key or another short text; long ones are cut, unusual characters escaped."""
    return text if re.fullmatch(r"[\w-]{1,40}", text) else repr(text[:_LENGTH] + "…" * (len(text) > _LENGTH))[1:-1]


def called(path: Sequence[Step]) -> str:
    """Name a part of a document on one line.

    >>> called(("checks", "belt-fit", "outcomes", 0))
    'checks.belt-fit.outcomes[1]'
    """
    name = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{word(step)}" for step in path)
    return name.removeprefix(".") or "The document"


def shown(value: object) -> str:
    """Name a value: short ones as they are written, collections by their kind.

    >>> [shown(value) for value in (None, True, 0.5, "half", [1, 2])]
    ['nothing', 'true', '0.5', "'half'", 'a list']
    """
    match value:
        case None:
            return "nothing"
        case bool():
            return str(value).lower()
        case int() | float():
            return f"{value!r:.{_LENGTH}}"
        case str():
            return f"'{word(value)}'"
        case list():
            return "a list"
    return "keys with values"
