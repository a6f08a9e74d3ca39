"""Files that a command writes where it is told to."""

import sys
from pathlib import Path

from triage.errors import StoreUnavailable
from triage.present.cleaning import clean_line


def write_file(path: Path, text: str, what: str) -> None:
    """Write a text and say where it is.

    Args:
        path: the file.
        text: what is in it.
        what: what it is, such as "tree".

    Raises:
        StoreUnavailable: it cannot be written.
    """
    try:
        path.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise StoreUnavailable(
            f"The {what} was not written to {path}: {error.strerror}.", "Name another file."
        ) from error
    sys.stderr.write(f"The {what} is in {clean_line(str(path))}.\n")
