"""Which rows of a step have not stood on the screen yet."""

import math
from collections.abc import Hashable, Iterable

from triage.present.read_first import MOMENT_S


class Unread:
    """Rows that must have been in view before a step is answered; time alone does not make them read.

    What was in view stays read as long as step, question and window are the same; where one of them changes, nothing
    has been read yet. Rows that are folded anew meanwhile are other rows.
    """

    def __init__(self) -> None:
        """Have nothing to read, and nothing that was read."""
        self._place: Hashable = None
        self._rows: frozenset[str] = frozenset()
        self._seen: set[str] = set()
        self._whole_s = math.inf

    def expect(self, place: Hashable, rows: Iterable[str]) -> None:
        """Say what must be read, and for which step in which window."""
        if place != self._place:
            self._place, self._seen, self._whole_s = place, set(), math.inf
        self._rows = frozenset(rows)
        if self._rows - self._seen:
            self._whole_s = math.inf

    def saw(self, rows: Iterable[str], at_s: float) -> None:
        """Say what was in view at `at_s` [s]."""
        self._seen |= set(rows)
        if not self._rows - self._seen:
            self._whole_s = min(self._whole_s, at_s)

    def was_read(self, at_s: float) -> bool:
        """Whether everything had been in view for a moment at `at_s` [s]."""
        return at_s - self._whole_s >= MOMENT_S
