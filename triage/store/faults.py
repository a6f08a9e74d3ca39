"""What can be wrong with a trace, as data, so that every face and report can lay it out its own way."""

from dataclasses import dataclass
from enum import StrEnum


class FaultKind(StrEnum):
    """The kinds of fault that a trace can have."""

    CHANGED = "changed"
    MISSING = "missing"
    REORDERED = "reordered"
    REPEATED = "repeated"
    TORN = "torn"
    CUT_OFF = "cut-off"
    UNREADABLE = "unreadable"
    DUPLICATE_KEY = "duplicate-key"
    FOREIGN_FORMAT = "foreign-format"
    TOO_LARGE = "too-large"
    EMPTY = "empty"


@dataclass(frozen=True)
class TraceFault:
    """One fault of one trace.

    Attributes:
        line: number of the line at fault, from 1; 0 where the fault is the whole file's.
        kind: what is wrong.
        message: a sentence that names the line.
    """

    line: int
    kind: FaultKind
    message: str


class LineError(ValueError):
    """Bytes or values that cannot be a line of a trace.

    Args:
        kind: what is wrong.
        reason: the rest of a sentence that begins with the line.
    """

    def __init__(self, kind: FaultKind, reason: str) -> None:
        """Leave the line's number to those who know it."""
        super().__init__(reason)
        self.kind = kind
        self.reason = reason
