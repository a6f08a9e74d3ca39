"""The bytes that a trace's file must hold, and whether it still holds them."""

import os
import time
from collections.abc import Iterable

UNSURE_NS = 3_000_000_000
"""Some disks keep times to 2 s: what was touched so lately may have been touched again without showing it."""


class Written:
    """What was written into a file, byte for byte.

    Looking costs one call to the operating system once nothing has touched the file for a few seconds; before that, and
    after something has, the file is read again. So a change that leaves its size alone is noticed as well.
    """

    def __init__(self, content: bytes = b"") -> None:
        """Take the content of a file for what was written."""
        self._pieces = [content]
        self._touched = (0, 0)
        self.size_bytes = len(content)

    def grow(self, pieces: Iterable[bytes]) -> None:
        """Add what has just been written at the end."""
        for piece in pieces:
            self._pieces.append(piece)
            self.size_bytes += len(piece)

    def stands_in(self, handle: int) -> bool:
        """Whether the file holds this and nothing else, and still has a name.

        Raises:
            OSError: the file cannot be looked at.
        """
        status = os.fstat(handle)
        if status.st_size != self.size_bytes or not status.st_nlink:
            return False
        touched = (status.st_mtime_ns, status.st_ctime_ns)
        if touched == self._touched:
            return True
        if not self._equals(handle):
            return False
        sure = time.time_ns() - max(touched) > UNSURE_NS
        self._touched = touched if sure else (0, 0)
        return True

    @property
    def content(self) -> bytes:
        """All of it."""
        return b"".join(self._pieces)

    def _equals(self, handle: int) -> bool:
        os.lseek(handle, 0, os.SEEK_SET)
        with open(handle, "rb", closefd=False) as file:
            return all(file.read(len(piece)) == piece for piece in self._pieces)
