"""What the bytes of a trace say: its lines, where it ends, and every fault that can be told.

One look serves reading, resuming and verifying, so that they cannot disagree about what is sound.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

from triage.store.chain import Chain, Record
from triage.store.faults import FaultKind, LineError, TraceFault
from triage.store.head import Head
from triage.store.knowledge import digest_of_knowledge, named_in, parted
from triage.store.lines import Line
from triage.store.marks import broken_marks

TRACE_LIMIT_BYTES = 256 * 1024 * 1024
# A file that is no trace at all would otherwise be named line by line.
_UNREADABLE_LIMIT = 100


@dataclass(frozen=True)
class Examination:
    """What was found in the bytes of a trace.

    Attributes:
        lines: the readable lines in the order of the file; to be believed only without `damage`.
        digests: the digest that each of them carries.
        torn: what stands after the last line end and is no line.
        ended: False if the last line, torn or whole, has no line end.
        faults: every fault, by line number.
        size_bytes: of the trace alone, without what travels behind it.
        knowledge: what travels behind it; None where nothing does.
    """

    lines: tuple[Line, ...]
    digests: tuple[str, ...]
    torn: bytes
    ended: bool
    faults: tuple[TraceFault, ...]
    size_bytes: int = 0
    knowledge: bytes | None = None

    @property
    def head(self) -> Head:
        """Where the trace ends."""
        return Head(len(self.digests), self.digests[-1] if self.digests else "")

    @property
    def damage(self) -> tuple[TraceFault, ...]:
        """The faults that writing which was stopped half-way does not explain."""
        return tuple(fault for fault in self.faults if fault.kind is not FaultKind.TORN)

    @property
    def tear(self) -> tuple[TraceFault, ...]:
        """The fault that such writing does explain, if there is one."""
        return tuple(fault for fault in self.faults if fault.kind is FaultKind.TORN)


def examine(content: bytes) -> Examination:
    """Look at the whole content of a trace file.

    Args:
        content: everything in the file; of one beyond the limit, more than the limit.
    """
    if len(content) > TRACE_LIMIT_BYTES:
        message = f"The file is larger than {TRACE_LIMIT_BYTES >> 20} MiB, which no trace is."
        return Examination((), (), b"", ended=True, faults=(TraceFault(0, FaultKind.TOO_LARGE, message),))
    content, knowledge = parted(content)
    records, torn, ended = _records(content)
    chain = Chain(records)
    faults = chain.faults + list(_end_faults(chain.highest, torn, ended=ended))
    readable = [(record.content, record.digest) for record in records if isinstance(record.content, Line)]
    lines, digests = tuple(line for line, _ in readable), tuple(digest for _, digest in readable)
    if not chain.faults:
        faults = [*broken_marks(lines, digests), *faults]
    faults += _knowledge_faults(lines, knowledge)
    return Examination(lines, digests, torn, ended, tuple(faults), len(content), knowledge)


def _knowledge_faults(lines: tuple[Line, ...], knowledge: bytes | None) -> Iterator[TraceFault]:
    if knowledge is None or not lines:
        return
    if digest_of_knowledge(knowledge) != named_in(lines[0].data):
        message = "The knowledge that travels behind the last line is not the one that line 1 names."
        yield TraceFault(lines[-1].seq + 1, FaultKind.CHANGED, message)


def compare_end(examination: Examination, head: Head) -> Iterator[TraceFault]:
    """Name what does not fit an end that was written down; a trace that has grown since then fits.

    Args:
        examination: a trace without damage.
        head: the end, from a hand-over, a sign-off or a report.
    """
    count = len(examination.lines)
    if count < head.count:
        gone = head.count - count
        lines = "The last line is" if gone == 1 else f"The last {gone} lines are"
        yield TraceFault(
            count + 1, FaultKind.CUT_OFF, f"{lines} missing: there were {head.count}, and {count} are left."
        )
    elif not examination.digests[head.count - 1].startswith(head.digest):
        yield TraceFault(head.count, FaultKind.CHANGED, f"Line {head.count} is not the one that {head} was noted for.")


def _records(content: bytes) -> tuple[list[Record], bytes, bool]:
    records: list[Record] = []
    unreadable = 0
    for raw in BytesIO(content):
        if not raw.endswith(b"\n"):
            return _with_rest(records, raw)
        records.append(Record.read(raw))
        unreadable += isinstance(records[-1].content, LineError)
        if unreadable == _UNREADABLE_LIMIT:
            break
    return records, b"", True


def _with_rest(records: list[Record], rest: bytes) -> tuple[list[Record], bytes, bool]:
    whole = Record.read(rest + b"\n")
    if isinstance(whole.content, Line):
        # Only the line end is gone: the line may have been acknowledged, so it counts.
        return [*records, whole], b"", False
    return records, rest, False


def _end_faults(highest: int, torn: bytes, *, ended: bool) -> Iterator[TraceFault]:
    if torn:
        message = f"Line {highest + 1} is torn: writing was stopped half-way, {len(torn)} bytes of it are there."
        yield TraceFault(highest + 1, FaultKind.TORN, message)
    elif not ended:
        yield TraceFault(highest, FaultKind.TORN, f"Line {highest} is whole but for its line end.")
    if not highest:
        yield TraceFault(1, FaultKind.EMPTY, "There is no whole line: nothing was ever saved in this trace.")
