"""Which sessions are there: every trace of a folder at a glance, by an index that is only kept to save time.

A trace that is as large and as old as the index says is believed to be as it was; every other one is looked at anew.
Two programs may write the index at once: the last one counts, and what it lacks is looked at again.
"""

import json
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, get_args

from triage import __version__
from triage.store.disk import unavailable
from triage.store.folders import SUFFIX, kept_folder
from triage.store.kept import keep, kept
from triage.store.listed.glance import Now, Summary, glance

_INDEX = "sessions.json"
_ORIGIN = f"sessions-2-{__version__}"
"""The shape of the index and the program that made it."""
_Stamp = tuple[int, int]
"""Size [bytes] and time of the last change [ns] of a file."""
_Index = Mapping[str, tuple[_Stamp, Summary]]


def list_traces(folder: Path) -> list[Summary]:
    """Look at every trace in a folder, the one that was written last first; damaged ones are listed too.

    Raises:
        StoreUnavailable: the folder cannot be read.
    """
    stamps = dict(_stamps(folder))
    index = _read_index(folder) if stamps else {}
    found: dict[str, tuple[_Stamp, Summary]] = {}
    for name, stamp in stamps.items():
        before, summary = index.get(name, (None, None))
        found[name] = (stamp, summary if summary and before == stamp else glance(folder / name))
    # One with a fault is looked at each time: who may read a file can change without a trace in it.
    sound = {name: entry for name, entry in found.items() if not entry[1].fault}
    if sound != index:
        keep(_index_file(folder), _ORIGIN, _written(sound))
    return sorted((summary for _, summary in found.values()), key=lambda summary: summary.saved_ms, reverse=True)


def _stamps(folder: Path) -> Iterator[tuple[str, _Stamp]]:
    """Size and time of every trace, by name; taken before it is looked at, so that what comes after shows."""
    try:
        with os.scandir(folder) as entries:
            names = sorted(entry.name for entry in entries if _is_trace(entry))
    except FileNotFoundError:
        return
    except OSError as error:
        raise unavailable(f"The folder {folder} cannot be read", error, "Look at its permissions.") from error
    for name in names:
        try:
            status = os.lstat(folder / name)
        except FileNotFoundError:  # deleted at this moment
            continue
        yield name, (status.st_size, status.st_mtime_ns)


def _is_trace(entry: os.DirEntry[str]) -> bool:
    return entry.name.endswith(SUFFIX) and not entry.name.startswith(".") and entry.is_file(follow_symlinks=False)


def _index_file(folder: Path) -> Path:
    return kept_folder(folder) / _INDEX


def _read_index(folder: Path) -> _Index:
    content = kept(_index_file(folder), _ORIGIN)
    try:
        rows = json.loads(content) if content else []
    except ValueError:
        return {}
    return dict(_entry(folder, row) for row in rows) if _is_index(rows) else {}


def _is_index(rows: object) -> bool:
    """Whether these are rows as `_written` writes them."""
    if not isinstance(rows, list):
        return False
    shape = (str, int, int, str, str, int, int, str, str)
    return all(isinstance(row, list) and tuple(map(type, row)) == shape and row[-2] in get_args(Now) for row in rows)


def _entry(folder: Path, row: list[Any]) -> tuple[str, tuple[_Stamp, Summary]]:
    name, size, changed_ns, *told = row
    return name, ((size, changed_ns), Summary(folder / name, *told))


def _written(index: _Index) -> bytes:
    rows = [
        (name, *stamp, one.job, one.symptom, one.saved_ms, one.count, one.now, one.proof)
        for name, (stamp, one) in index.items()
    ]
    return json.dumps(rows, ensure_ascii=False, separators=(",", ":")).encode()
