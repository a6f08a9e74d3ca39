"""Which rows of a step have not stood on the screen yet."""

import math
from collections.abc import Hashable, Iterable

from triage.present.read_first import MOMENT_S


class Unread:
    """Rows that must have been in view before a step is answered; time alone does not make them read.

    The same rows in the same place stay read; whenever step, question or window change, all of them are unread again.
    """

    def __init__(self) -> None:
        """Have nothing to read, and nothing that was read."""
        self._place: Hashable = None
        self._rows: set[str] = set()
        self._whole_s = math.inf

    def expect(self, place: Hashable, rows: Iterable[str]) -> None:
        """Say what must be read, and for which step in which window."""
        if place != self._place:
            self._place, self._rows, self._whole_s = place, set(rows), math.inf

    def saw(self, rows: Iterable[str], at_s: float) -> None:
        """Say what was in view at `at_s` [s]."""
        self._rows.difference_update(rows)
        if not self._rows:
            self._whole_s = min(self._whole_s, at_s)

    def was_read(self, at_s: float) -> bool:
        """Whether everything had been in view for a moment at `at_s` [s]."""
        return at_s - self._whole_s >= MOMENT_S
