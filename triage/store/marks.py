"""The marks that stand inside a trace: hand-over and sign-off carry the end that it had then."""

from collections.abc import Iterator, Sequence

from triage.errors import TriageError
from triage.store.faults import FaultKind, TraceFault
from triage.store.head import Head
from triage.store.lines import Line

MEMBER = "head"
"""Member of a line's data that holds a mark; empty where none was taken."""


def broken_marks(lines: Sequence[Line], digests: Sequence[str]) -> Iterator[TraceFault]:
    """Name every mark inside a trace that does not mean the line that is there: somebody wrote what is before it anew.

    Args:
        lines: every line of a trace whose digests fit.
        digests: the digest of each.
    """
    for line in lines:
        mark = line.data.get(MEMBER)
        if mark and not _means(mark, line.seq, digests):
            held = f"Line {line.seq} holds the mark {str(mark)[:80]}, which fits no line before it"
            message = f"{held}: they were written anew."
            yield TraceFault(line.seq, FaultKind.CHANGED, message)


def _means(mark: object, seq: int, digests: Sequence[str]) -> bool:
    try:
        head = Head.parse(mark) if isinstance(mark, str) else None
    except TriageError:
        return False
    return head is not None and head.count < seq and digests[head.count - 1].startswith(head.digest)
