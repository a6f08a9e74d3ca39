"""Records of practice: a folder of their own, marked in each line and name, of another shape than a job's trace.

They are written for the debrief and for whoever wants to look back. No list of sessions reads that folder, nothing
takes one up again, and a line of one is no line of a trace.
"""

import json
import os
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from triage.store.disk import make_folder, open_new, unavailable, write_all
from triage.store.folders import SUFFIX

FOLDER: Final = "practice"
MARK: Final = "PRACTICE"
WHAT: Final = "PRACTICE: no vehicle, no job"
"""Stands first in every line."""
MOST_AT_ONCE: Final = 100


def practice_folder(folder: Path) -> Path:
    """Name the folder of practice beside the sessions of a folder, whether or not it exists."""
    return folder / FOLDER


class PracticeRecord:
    """Writes one record."""

    def __init__(self, path: Path, handle: int) -> None:
        """Take a new file over; use `begin`."""
        self.path = path
        self._handle = handle
        self._count = 0

    @classmethod
    def begin(cls, folder: Path, symptom: str) -> "PracticeRecord":
        """Begin a record in the folder of practice.

        Args:
            folder: that of the sessions.
            symptom: the complaint.

        Raises:
            StoreUnavailable: nothing can be written there.
        """
        place, stem = practice_folder(folder), f"{MARK}-{time.strftime('%Y%m%d-%H%M%S', time.gmtime())}-{symptom}"
        try:
            make_folder(place)
            for number in range(1, MOST_AT_ONCE):
                path = place / f"{stem}{f'-{number}' if number > 1 else ''}{SUFFIX}"
                if not path.exists():
                    return cls(path, open_new(path))
        except OSError as error:
            raise unavailable(
                f"Practice cannot be kept in {place}", error, "Look at the folder and its disk."
            ) from error
        raise unavailable(f"Practice cannot be kept in {place}", FileExistsError(), "Wait a second and try again.")

    def add(self, kind: str, told: Mapping[str, object]) -> None:
        """Write one line.

        Raises:
            StoreUnavailable: it cannot be written.
        """
        self._count += 1
        line = {"practice": WHAT, "n": self._count, "kind": kind, **told}
        raw = json.dumps(line, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"
        try:
            write_all(self._handle, raw)
        except OSError as error:
            hint = "Look at the disk; practice goes on unkept only if it is begun anew."
            raise unavailable(f"{self.path.name} cannot be written", error, hint) from error

    def close(self) -> None:
        """Write no more."""
        os.close(self._handle)


def practice_records(folder: Path) -> Iterator[tuple[Mapping[str, Any], ...]]:
    """Read the records of practice, the oldest name first; what cannot be read is passed over.

    Args:
        folder: that of the sessions.
    """
    for path in sorted(practice_folder(folder).glob(f"{MARK}-*{SUFFIX}")):
        try:
            told = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
        except (OSError, ValueError):
            continue
        yield tuple(line for line in told if isinstance(line, dict) and line.get("practice") == WHAT)
