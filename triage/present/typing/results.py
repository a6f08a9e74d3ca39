"""What typed lines come to."""

from dataclasses import dataclass
from pathlib import Path

from triage.session.commands import Command


@dataclass(frozen=True)
class Ask:
    """One more line is needed.

    Args:
        question: what is asked.
        by_line: whether an empty line takes the last line back alone, because many were typed; else it drops them all.
    """

    question: str
    by_line: bool = False


@dataclass(frozen=True)
class Show:
    """A page to read; the step on screen stays.

    Args:
        lines: the page.
        record: what the session is to keep of it; None where that is nothing.
    """

    lines: tuple[str, ...]
    record: Command | None = None


@dataclass(frozen=True)
class Watch:
    """A stopwatch is wanted; what it shows is then typed as the reading."""


@dataclass(frozen=True)
class Leave:
    """The program is to stop; the session is kept."""


@dataclass(frozen=True)
class Copy:
    """Everything is to be saved elsewhere.

    Args:
        place: a new file, or a folder.
        leaves: whether the program is to stop then.
        travels: whether it is to be one file that a colleague can open elsewhere.
    """

    place: Path
    leaves: bool = False
    travels: bool = False


Result = Command | Ask | Show | Watch | Leave | Copy
