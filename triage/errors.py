"""What can go wrong that a person can act on, and the exit codes that scripts see.

Every error that may reach a user is one of these. A message says what happened; the hint says what to do. Anything
else that escapes is a defect of the program and ends at the one error boundary in the command line.
"""

from dataclasses import dataclass

EXIT_OK = 0
EXIT_DISAGREES = 1
"""The work was done and the answer is no: a case disagrees, a tree has faults, a trace does not verify."""
EXIT_REFUSED = 2
"""The words on the command line, or a typed quantity, could not be accepted."""
EXIT_FILE = 3
"""A file could not be read or written, is locked, damaged or of another format version."""
EXIT_DEFECT = 70
"""A defect of the program itself. Answers acknowledged before it are on disk."""
EXIT_MEMORY = 71
"""The system has too little memory for the program. Answers acknowledged before it are on disk."""
EXIT_INTERRUPTED = 130
"""Stopped with Ctrl-C or by a closed terminal."""


class TriageError(Exception):
    """Something a user can act on.

    Args:
        message: what happened, one sentence.
        hint: what to do now; empty where the message says it all.
    """

    exit_code = EXIT_REFUSED

    def __init__(self, message: str, hint: str = "") -> None:
        """Keep message and hint apart, so that each face lays them out its own way."""
        super().__init__(message)
        self.message = message
        self.hint = hint

    def __str__(self) -> str:
        """Message and hint as one line of text."""
        return f"{self.message} {self.hint}".rstrip()


class TooManyAtOnceError(TriageError):
    """So many abnormal results hang together that they cannot be weighed within a moment."""


class QuantityRefused(TriageError):
    """A typed quantity was not understood or cannot be; the hint says what would be right."""


class QuantityImplausible(QuantityRefused):
    """A typed quantity was understood, and nothing at a vehicle is so small or so large."""


class QuantityUnclear(TriageError):
    """A typed quantity has two readings; the message asks which is meant."""


@dataclass(frozen=True)
class Place:
    """Where in a text file something stands; line and column count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        """The form that editors jump to."""
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Fault:
    """One thing wrong in a document, where it stands, and what would be right."""

    place: Place
    message: str
    hint: str = ""

    def __str__(self) -> str:
        """One line for a terminal."""
        return f"{self.place}: {self.message} {self.hint}".rstrip()


class DocumentFaulty(TriageError):
    """A knowledge, case, layout or shop file has faults; every one is named, not the first.

    Args:
        faults: at least one fault, in reading order.
    """

    exit_code = EXIT_FILE

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        """Make one message out of all faults and keep them for those who lay them out."""
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class CommandRefused(TriageError):
    """A session command is not allowed now; the session is unchanged."""


class TraceDamaged(TriageError):
    """A trace is changed, cut, torn or of a foreign version."""

    exit_code = EXIT_FILE


class KnowledgeMissing(TraceDamaged):
    """A trace was found without the knowledge that its first line names."""


class TraceUnsafe(TriageError):
    """A trace can be read, and nobody may work on from it: its events do not add up to a safe session."""

    exit_code = EXIT_FILE


class MemoryShort(TriageError):
    """The system does not give as much memory as the program needs."""

    exit_code = EXIT_MEMORY


class StoreUnavailable(TriageError):
    """A trace cannot be written or opened: disk full, folder read-only, another writer."""

    exit_code = EXIT_FILE


class NotSaved(StoreUnavailable):
    """A trace that is open can no longer be written: nothing is acknowledged until it can."""
