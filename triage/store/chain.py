"""Whether the lines of a trace follow each other as they were written: nothing changed, missing or moved."""

from dataclasses import dataclass
from itertools import pairwise

from triage.store.faults import FaultKind, LineError, TraceFault
from triage.store.lines import Line, decode, digest_of, split_seal


@dataclass(frozen=True)
class Record:
    """The bytes of one line, as far as they could be read.

    Attributes:
        body: what the digest covers.
        digest: the digest that the line carries; empty if it carries none.
        content: the line, or why it cannot be read.
    """

    body: bytes
    digest: str
    content: Line | LineError

    @classmethod
    def read(cls, raw: bytes) -> "Record":
        """Make a record of a line's bytes, its line end included."""
        try:
            return cls(*split_seal(raw), decode(raw))
        except LineError as fault:
            return cls(*split_seal(raw), fault)


class Chain:
    """One walk over the records of a trace, which gives each its number and judges it by the one before.

    A line's own number counts only if its digest fits. A line in a wrong place is judged by the line that its number
    puts before it; one whose predecessor is gone cannot be judged, and its number is believed.

    Attributes:
        faults: every fault that can be told, by line number.
        highest: the highest number of a line; 0 without any.
    """

    def __init__(self, records: list[Record]) -> None:
        """Walk."""
        self.faults: list[TraceFault] = []
        self.highest = 0
        self._numbers = {0}
        self._digests = {0: ""}
        self._digests |= {record.content.seq: record.digest for record in records if isinstance(record.content, Line)}
        # What the line before says its digest is, and what its bytes make it: one of them survives most edits.
        self._before: tuple[str, ...] = ("",)
        for record in records:
            self._visit(record)
        self._name_gaps()
        self.faults.sort(key=lambda fault: fault.line)

    def _visit(self, record: Record) -> None:
        number = self._number(record)
        self._numbers.add(number)
        self.highest = max(self.highest, number)
        if record.digest:
            self._before = (record.digest, *(digest_of(before, record.body) for before in self._before[:1]))
        else:
            self._before = ()

    def _number(self, record: Record) -> int:
        line, following = record.content, self.highest + 1
        if isinstance(line, LineError):
            self._name(following, line.kind, f"Line {following} {line.reason}.")
            return following
        orphaned = line.seq != following and line.seq - 1 not in self._digests
        if orphaned or self._fits(line, record):
            self._judge_place(line.seq)
            return line.seq
        suspect = f"or line {following - 1} was made anew" if following > 1 else "or is not the first line"
        self._name(following, FaultKind.CHANGED, f"Line {following} was changed after it was saved, {suspect}.")
        return following

    def _fits(self, line: Line, record: Record) -> bool:
        if not self._before:
            return True
        by_number = self._digests.get(line.seq - 1)
        candidates = self._before if by_number is None else (*self._before, by_number)
        return any(digest_of(before, record.body) == record.digest for before in candidates)

    def _judge_place(self, number: int) -> None:
        if number in self._numbers:
            self._name(number, FaultKind.REPEATED, f"Line {number} stands there more than once.")
        elif number < self.highest:
            self._name(number, FaultKind.REORDERED, f"Line {number} stands after line {self.highest}.")

    def _name_gaps(self) -> None:
        for low, high in pairwise(sorted(self._numbers)):
            if high - low == 2:
                self._name(low + 1, FaultKind.MISSING, f"Line {low + 1} is missing.")
            elif high - low > 2:
                self._name(low + 1, FaultKind.MISSING, f"Lines {low + 1} to {high - 1} are missing.")

    def _name(self, number: int, kind: FaultKind, message: str) -> None:
        self.faults.append(TraceFault(number, kind, message))
