"""What was worked out once and is kept to save time; it may be lost, foreign, old or broken at any moment.

A kept file is one line, of what it was made from and of a digest, and the content behind it. Whatever is wrong with it,
it is as if it were not there, and its owner works it out anew: nothing stands in it alone.
"""

import contextlib
import os
import sys
from hashlib import sha256
from pathlib import Path

from triage.errors import StoreUnavailable
from triage.store.disk import open_new, open_regular, read_up_to, write_all

LIMIT_BYTES = 64 * 1024 * 1024
_FOR_OTHERS = 0o077


def kept(path: Path, origin: str) -> bytes | None:
    """Return what was kept in a file, or None if there is nothing that can be relied on.

    Args:
        path: its file.
        origin: what it must have been made from, as a word.
    """
    try:
        handle = open_regular(path)
    except (OSError, StoreUnavailable):
        return None
    try:
        whole = read_up_to(handle, LIMIT_BYTES) if _is_ours(os.fstat(handle)) else b""
    except OSError:
        return None
    finally:
        os.close(handle)
    head, _, content = whole.partition(b"\n")
    return content if len(whole) <= LIMIT_BYTES and head == _head(origin, content) else None


def keep(path: Path, origin: str, content: bytes) -> None:
    """Keep something for next time, for its owner alone; where that cannot be, nothing is kept.

    Args:
        path: its file, which is replaced as a whole.
        origin: what it was made from, as a word.
        content: what is kept.
    """
    new = path.with_name(f"{path.name}.new")
    with contextlib.suppress(OSError):
        path.parent.parent.mkdir(mode=0o700, parents=True, exist_ok=True)  # the mode is for the last of them alone
        path.parent.mkdir(mode=0o700, exist_ok=True)
        new.unlink(missing_ok=True)
        handle = open_new(new)
        try:
            # Not flushed to the disk itself: the digest finds what a power cut leaves of it.
            write_all(handle, _head(origin, content) + b"\n" + content)
        finally:
            os.close(handle)
        new.replace(path)
    with contextlib.suppress(OSError):
        new.unlink(missing_ok=True)


def _head(origin: str, content: bytes) -> bytes:
    return f"{origin} {sha256(content).hexdigest()}".encode()


def _is_ours(status: os.stat_result) -> bool:
    """Whether nobody but this user can have written it; Windows keeps others off a user's folders by itself."""
    return sys.platform == "win32" or (status.st_uid == os.getuid() and not status.st_mode & _FOR_OTHERS)
