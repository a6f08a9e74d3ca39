"""What to do about a last line that was not written whole: keep what is left of it, out of the way, and say so."""

import os
from itertools import count
from pathlib import Path

from triage.store.disk import flush, flush_folder, open_new, write_all
from triage.store.examine import Examination


def mend(path: Path, handle: int, examination: Examination, size_bytes: int) -> tuple[int, tuple[str, ...]]:
    """Make a trace end in a whole line, so that the next one can follow.

    Args:
        path: the trace's file.
        handle: the same file, open to append and locked.
        examination: what was found in it; no damage.
        size_bytes: its size [B].

    Returns:
        its size now [B], and what to tell the user.

    Raises:
        OSError: the disk is full or fails; then the trace is as it was.
    """
    sentences = [fault.message for fault in examination.tear]
    if examination.torn:
        # First the copy, then the cut: stopped in between, there are two copies and not none.
        aside = _set_aside(path, examination.torn)
        size_bytes -= len(examination.torn)
        os.ftruncate(handle, size_bytes)
        flush(handle)
        sentences.append(f"What is left of it was set aside in {aside.name}; every line before it is there.")
    elif not examination.ended:
        write_all(handle, b"\n")
        flush(handle)
        size_bytes += 1
        sentences.append("The line end was put back; nothing is missing.")
    return size_bytes, tuple(sentences)


def _set_aside(path: Path, torn: bytes) -> Path:
    # The ending keeps it from ever being taken for a trace.
    names = (path.with_name(f"{path.name}.torn-{number}") for number in count(1))
    aside = next(name for name in names if not name.exists())
    handle = open_new(aside)
    try:
        try:
            write_all(handle, torn)
            flush(handle)
        finally:
            # Windows removes no file that is open.
            os.close(handle)
    except BaseException:
        aside.unlink()
        raise
    flush_folder(path.parent)
    return aside
