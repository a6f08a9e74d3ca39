"""The bytes of a file that a person named, which may be anything that a file system holds."""

import os
import stat
from pathlib import Path
from typing import Final

from triage.documents.faults import faulty
from triage.errors import DocumentFaulty, Fault, Place

SIZE_LIMIT: Final = 1024 * 1024
"""Bytes of a file, characters of a text."""

_ODD: Final = {
    stat.S_IFDIR: "a folder",
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
}
# A pipe that nobody writes to would be waited for, and a terminal taken over. Windows has neither flag.
_FLAGS: Final = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)


def is_there(path: Path) -> bool:
    """Tell whether anything has that name: also a link that leads nowhere, or what nobody here may look at."""
    try:
        path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError:  # reading it says what is wrong
        return True
    return True


def content_of(path: Path, file: str) -> bytes:
    """Read an ordinary file, or one that a link leads to.

    Args:
        path: the file.
        file: what the fault calls it.

    Raises:
        DocumentFaulty: it is not there, cannot be read, is too large, or is a folder, pipe or device.
    """
    try:
        _refuse_odd(path.stat(), file)
        with os.fdopen(os.open(path, _FLAGS), "rb") as stream:
            # It may have been swapped between the two looks.
            _refuse_odd(os.fstat(stream.fileno()), file)
            content = stream.read(SIZE_LIMIT + 1)
    except (OSError, ValueError) as error:  # a name with a null character is a ValueError
        raise _unreadable(path, file, error) from error
    if len(content) > SIZE_LIMIT:
        raise too_large(file)
    return content


def too_large(file: str) -> DocumentFaulty:
    """Make the fault of a file or text that is larger than anybody writes by hand."""
    return _fault(file, "The file is larger than 1 MiB and was not read.", "Split it.")


def _refuse_odd(status: os.stat_result, file: str) -> None:
    if not stat.S_ISREG(status.st_mode):
        kind = _ODD.get(stat.S_IFMT(status.st_mode), "no ordinary file")
        raise _fault(file, f"The file cannot be read: it is {kind}.", "Name an ordinary file.")


def _unreadable(path: Path, file: str, error: OSError | ValueError) -> DocumentFaulty:
    if isinstance(error, FileNotFoundError) and path.is_symlink():
        return _fault(file, "The file cannot be read: it is a link to a file that is not there.", "Mend the link.")
    reason = getattr(error, "strerror", None) or str(error)
    return _fault(file, f"The file cannot be read: {reason}.", "Check its name and who may read it.")


def _fault(file: str, message: str, hint: str) -> DocumentFaulty:
    return faulty([Fault(Place(file, 1, 1), message, hint)])
