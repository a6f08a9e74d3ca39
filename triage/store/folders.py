"""Where sessions and the shop file live, and which sessions are there."""

import os
from dataclasses import dataclass
from io import SEEK_END
from pathlib import Path
from typing import BinaryIO

from platformdirs import user_data_path

from triage.errors import StoreUnavailable
from triage.store.chain import Record
from triage.store.disk import unavailable
from triage.store.faults import LineError
from triage.store.lines import LINE_LIMIT_BYTES, Line, digest_of
from triage.store.traces import opened_to_read

SUFFIX = ".jsonl"
_FIRST_WINDOW_BYTES = 64 * 1024


@dataclass(frozen=True)
class Summary:
    """A trace at a glance: its first and last line, not what is between them.

    Attributes:
        path: its file.
        first: the line that it begins with, if that is sound.
        last: the last whole line, if that is readable.
        count: number of lines, as the last one says.
        fault: why it cannot be opened as it is; empty if nothing shows at a glance. Only verifying finds the others.
    """

    path: Path
    first: Line | None
    last: Line | None
    count: int
    fault: str


def data_folder() -> Path:
    """Name the folder of this user's sessions, whether or not it exists.

    The environment variable TRIAGE_HOME comes first, then the operating system's place for a program's data.
    """
    home = os.environ.get("TRIAGE_HOME")
    return Path(home).absolute() if home else user_data_path("triage", appauthor=False)


def shop_file_path() -> Path:
    """Name the file of the shop's own settings, whether or not it exists."""
    return data_folder() / "shop.yaml"


def list_traces(folder: Path) -> list[Summary]:
    """Look at every trace in a folder, the one that was written last first; damaged ones are listed too.

    Raises:
        StoreUnavailable: the folder cannot be read.
    """
    try:
        with os.scandir(folder) as entries:
            paths = [Path(entry.path) for entry in entries if _is_trace(entry)]
    except FileNotFoundError:
        return []
    except OSError as error:
        raise unavailable(f"The folder {folder} cannot be read", error, "Look at its permissions.") from error
    return sorted(map(_glance, sorted(paths)), key=_last_at_ms, reverse=True)


def _last_at_ms(summary: Summary) -> int:
    return summary.last.at_ms if summary.last else 0


def _is_trace(entry: os.DirEntry[str]) -> bool:
    return entry.name.endswith(SUFFIX) and not entry.name.startswith(".") and entry.is_file(follow_symlinks=False)


def _glance(path: Path) -> Summary:
    try:
        with opened_to_read(path) as handle, open(handle, "rb", closefd=False) as file:
            opening = file.readline(LINE_LIMIT_BYTES + 1)
            ending = _last_record(file)
    except StoreUnavailable as error:
        return Summary(path, None, None, 0, error.message)
    if not opening:
        return Summary(path, None, None, 0, "Nothing was ever saved in it.")
    first = _first_line(Record.read(opening.removesuffix(b"\n") + b"\n"))
    if isinstance(first, str):
        return Summary(path, None, None, 0, first)
    if isinstance(ending.content, LineError):
        return Summary(path, first, None, 0, f"The last line {ending.content.reason}.")
    return Summary(path, first, ending.content, ending.content.seq, "")


def _first_line(record: Record) -> Line | str:
    line = record.content
    if isinstance(line, LineError):
        return f"Line 1 {line.reason}."
    if line.seq != 1 or digest_of("", record.body) != record.digest:
        return "Line 1 was changed after it was saved, or is not the first line."
    return line


def _last_record(file: BinaryIO) -> Record:
    size = file.seek(0, SEEK_END)
    window = _FIRST_WINDOW_BYTES
    while True:
        file.seek(max(0, size - window))
        *whole, rest = file.read().split(b"\n")
        unended = Record.read(rest + b"\n")
        if isinstance(unended.content, Line):
            return unended
        # The window's first piece may be the end of a longer line.
        if len(whole) > 1 or window >= min(size, 2 * LINE_LIMIT_BYTES):
            return Record.read(whole[-1] + b"\n") if whole else unended
        window *= 8
