"""The few things that a disk does differently from system to system: locks, real flushes, odd files.

Everything here takes or gives file handles of the operating system; nothing here knows what a trace is.
`docs/decisions/trace-lock.md` says why the lock is the operating system's.
"""

import contextlib
import errno
import os
import stat
import sys
from pathlib import Path

from triage.errors import StoreUnavailable

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

# Python opens in text mode on Windows; the others are absent there.
_FLAGS = getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
# Windows locks bytes and keeps readers off them, so the locked one is far behind any trace.
_LOCKED_BYTE = 1 << 40

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "permission is denied",
    errno.EPERM: "permission is denied",
    errno.ENOENT: "it is not there",
    errno.EEXIST: "something of that name is there already",
    errno.ENOTDIR: "something in its path is not a folder",
    errno.EIO: "the disk reports a fault",
}

NO_LOCKS = frozenset({errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS})
"""What file systems say that know no locks, mostly those of network folders."""


def unavailable(what: str, error: OSError, hint: str) -> StoreUnavailable:
    """Turn an error of the operating system into one that a person can act on.

    Args:
        what: beginning of the sentence, such as "The trace a.jsonl cannot be opened".
        error: what the operating system said.
        hint: what to do now.
    """
    reason = _REASONS.get(error.errno or 0) or error.strerror or type(error).__name__
    return StoreUnavailable(f"{what}: {reason}.", hint)


def make_folder(folder: Path) -> None:
    """Make a folder and those above it that are not there, each for its owner alone.

    Raises:
        OSError: one cannot be made, or something else has its name.
    """
    made = [above for above in folder.parents if not above.exists()]
    for one in (*reversed(made), folder):
        one.mkdir(mode=0o700, exist_ok=True)
        flush_folder(one.parent)


def open_new(path: Path, mode: int = 0o600) -> int:
    """Open a file that must not exist yet; nobody but its owner may read it unless another mode is given.

    Raises:
        OSError: it exists, or cannot be made.
    """
    return os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_APPEND | _FLAGS, mode)


def open_regular(path: Path, *, to_append: bool = False) -> int:
    """Open a file, but no link, folder, pipe or device.

    Raises:
        StoreUnavailable: it is something else.
        OSError: it cannot be opened.
    """
    _refuse_odd(path, path.lstat())
    handle = os.open(path, (os.O_RDWR | os.O_APPEND if to_append else os.O_RDONLY) | _FLAGS)
    try:
        # It may have been swapped between the two looks.
        _refuse_odd(path, os.fstat(handle))
    except BaseException:
        os.close(handle)
        raise
    return handle


def _refuse_odd(path: Path, status: os.stat_result) -> None:
    if not stat.S_ISREG(status.st_mode):
        raise StoreUnavailable(
            f"{path.name} is not an ordinary file.", "Name the trace itself, no link, folder or pipe."
        )


def keep_private(handle: int) -> None:
    """Let nobody but its owner read or write a file from here on, where it is our own and its disk knows owners."""
    if sys.platform == "win32":
        return
    status = os.fstat(handle)
    if status.st_uid == os.geteuid() and stat.S_IMODE(status.st_mode) != 0o600:
        # Some disks, such as a USB stick's, keep no permissions and refuse to be asked.
        with contextlib.suppress(OSError):
            os.fchmod(handle, 0o600)


def lock(handle: int) -> bool:
    """Keep other writers off a file until its handle is closed, even by the death of the process.

    Returns:
        False when somebody else holds it.

    Raises:
        OSError: the file system knows no locks (`NO_LOCKS`), or the disk fails.
    """
    try:
        if sys.platform == "win32":
            os.lseek(handle, _LOCKED_BYTE, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def read_up_to(handle: int, limit_bytes: int) -> bytes:
    """Read a file from its start, and one byte beyond the limit when it is longer.

    Raises:
        OSError: it cannot be read.
    """
    os.lseek(handle, 0, os.SEEK_SET)
    with open(handle, "rb", closefd=False) as file:
        # Room for all that is asked for is taken at once, so no more is asked for than there is.
        return file.read(min(os.fstat(handle).st_size, limit_bytes + 1))


def write_all(handle: int, content: bytes) -> None:
    """Write everything, in one call to the operating system unless it takes only a part.

    Raises:
        OSError: the disk took only a part, or nothing.
    """
    rest = memoryview(content)
    while rest:
        written = os.write(handle, rest)
        if not written:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        rest = rest[written:]


def flush(handle: int) -> None:
    """Return when what was written is on the disk itself.

    Raises:
        OSError: it did not get there.
    """
    if sys.platform == "darwin":
        # macOS alone takes the drive's own cache for the disk; network drives know only the plain way.
        with contextlib.suppress(OSError):
            fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
            return
    os.fsync(handle)


def flush_folder(folder: Path) -> None:
    """Return when a folder's new names are on the disk itself. Windows sees to it and cannot be asked.

    Raises:
        OSError: they did not get there.
    """
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        # Some network file systems keep names by themselves and refuse to be asked.
        if error.errno not in {errno.EINVAL, errno.ENOTSUP}:
            raise
    finally:
        os.close(handle)
