"""What the parts of the shop file check alike: names that must be known, and figures that must be readable."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from triage.documents import Document
from triage.errors import Fault, TriageError
from triage.knowledge.nearest import nearest


def strangers(
    document: Document, path: tuple[str, ...], named: Iterable[str], known: Sequence[str], what: str
) -> Iterator[Fault]:
    """Name what nobody knows."""
    for name in named:
        if name not in known:
            yield Fault(document.place_of_key((*path, name)), f'There is no {what} "{name}".', nearest(name, known))


def unreadable(document: Document, path: tuple[str, ...], read: Callable[[], object]) -> Iterator[Fault]:
    """Name what cannot be read, by reading it."""
    try:
        read()
    except TriageError as error:
        yield Fault(document.place(path), error.message, error.hint)
