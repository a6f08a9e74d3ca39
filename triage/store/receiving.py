"""A trace from a colleague, taken in: new, or the lines that are missing here; nothing is overwritten."""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from triage.errors import StoreUnavailable, TraceDamaged
from triage.store.disk import flush, flush_folder, make_folder, open_new, unavailable, write_all
from triage.store.folders import SUFFIX
from triage.store.lines import LINE_LIMIT_BYTES, split_seal
from triage.store.traces import Trace, opened_to_read, read_trace, travelling
from triage.store.writer import TraceWriter

MOST_NAMES = 100
"""Files of one name that are tried before it is given up."""


@dataclass(frozen=True)
class Received:
    """What became of a file.

    Args:
        kind: it was not there, it was there, or it had more lines.
        path: where it is now.
        lines: how many lines came.
    """

    kind: Literal["new", "same", "longer"]
    path: Path
    lines: int


def receive(file: Path, folder: Path) -> Received:
    """Take a trace into a folder.

    Args:
        file: what a colleague has sent.
        folder: that of the own sessions.

    Raises:
        TraceDamaged: the file does not hold together, or its knowledge is not in it.
        StoreUnavailable: what is there is longer or has lines of its own, or something cannot be read or written.
    """
    content, _ = travelling(file)
    theirs = read_trace(file)
    own = _of_same_session(folder, theirs.digests[0])
    if own is None:
        return Received("new", _written(content, folder, file.stem), len(theirs.lines))
    ours = read_trace(own)
    common = _common(theirs, ours)
    if common == len(theirs.lines) == len(ours.lines):
        return Received("same", own, 0)
    if common == len(theirs.lines):
        behind = len(ours.lines) - common
        raise StoreUnavailable(
            f"{own.name} is {behind} lines ahead of {file.name}.", "Nothing was changed. Send yours."
        )
    if common < len(ours.lines):
        raise StoreUnavailable(
            f"{own.name} and {file.name} have each lines of their own from line {common + 1} on.",
            "Nothing was changed. Keep both, and read the other as it is: triage show FILE",
        )
    return Received("longer", own, _appended(own, theirs, common))


def _common(one: Trace, other: Trace) -> int:
    pairs = zip(one.digests, other.digests, strict=False)
    return next(
        (at for at, (mine, yours) in enumerate(pairs) if mine != yours), min(len(one.digests), len(other.digests))
    )


def _of_same_session(folder: Path, digest: str) -> Path | None:
    """The trace of a folder that begins with the same line."""
    for path in sorted(folder.glob(f"*{SUFFIX}")):
        try:
            with opened_to_read(path) as handle, open(handle, "rb", closefd=False) as opened:
                first = opened.readline(LINE_LIMIT_BYTES + 1)
            if split_seal(first)[1] == digest:
                return path
        except (StoreUnavailable, ValueError):
            continue
    return None


def _written(content: bytes, folder: Path, stem: str) -> Path:
    try:
        make_folder(folder)
        for number in range(1, MOST_NAMES):
            path = folder / f"{stem}{f'-{number}' if number > 1 else ''}{SUFFIX}"
            if path.exists():
                continue
            handle = open_new(path)
            try:
                write_all(handle, content)
                flush(handle)
            except BaseException:
                path.unlink(missing_ok=True)
                raise
            finally:
                os.close(handle)
            flush_folder(folder)
            return path
    except OSError as error:
        raise unavailable(f"Nothing can be written in {folder}", error, "Look at the folder and its disk.") from error
    raise StoreUnavailable(f"There are {MOST_NAMES} files called {stem}.", "Give the file another name.")


def _appended(own: Path, theirs: Trace, common: int) -> int:
    """Write the lines that are missing here; they follow on, so that the chain goes on as it was sealed."""
    writer, _, _ = TraceWriter.reopen(own)
    try:
        writer.append(theirs.lines[common:])
        if writer.head != theirs.head:
            raise TraceDamaged(f"{own.name} does not end as the file does.", "Use the copy from the last hand-over.")
    finally:
        writer.close()
    return len(theirs.lines) - common
