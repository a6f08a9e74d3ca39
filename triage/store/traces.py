"""Traces as their readers need them: read whole, or verified."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from triage.errors import TraceDamaged
from triage.store.disk import flush, open_new, open_regular, read_up_to, unavailable, write_all
from triage.store.examine import TRACE_LIMIT_BYTES, Examination, compare_end, examine
from triage.store.faults import FaultKind, TraceFault
from triage.store.head import Head
from triage.store.knowledge import digest_of_knowledge, fetch_knowledge, named_in, travelling_line
from triage.store.lines import Line

_HINTS = {
    FaultKind.FOREIGN_FORMAT: "Open it with the version of triage that wrote it, or with a newer one.",
    FaultKind.EMPTY: "The file can be deleted, and the session begun anew.",
}
_HINT = "The file was left as it is. Use the copy from the last hand-over or backup; triage verify names every fault."


@dataclass(frozen=True)
class Trace:
    """A sound trace as it was read.

    Attributes:
        path: its file.
        lines: every line, in order.
        head: where it ends.
        notices: sentences about a torn end; it was left in the file and is not among the lines.
        knowledge: what its first line names, as stored; empty where the knowledge stands in the line itself.
        digests: the digest of each line.
    """

    path: Path
    lines: tuple[Line, ...]
    head: Head
    notices: tuple[str, ...]
    knowledge: bytes = b""
    digests: tuple[str, ...] = ()


def read_trace(path: Path) -> Trace:
    """Read a trace and change nothing, also while its session goes on elsewhere.

    Raises:
        TraceDamaged: a line is changed, missing, moved or unreadable, or the format is not known here.
        KnowledgeMissing: the knowledge that it names is neither in it nor beside it.
        StoreUnavailable: the file cannot be read, or is no ordinary file.
    """
    examination = _examine_file(path)
    refuse_damage(path, examination)
    notices = tuple(fault.message for fault in examination.tear)
    knowledge = knowledge_of_trace(path, examination)
    return Trace(path, examination.lines, examination.head, notices, knowledge, examination.digests)


def read_sound(path: Path) -> tuple[Trace, str]:
    """Read a trace as far as its lines can be relied on, and change nothing.

    Returns:
        every line before the first bad one, and what is wrong with that one; "" where nothing is.

    Raises:
        TraceDamaged: no line can be relied on, or the format is not known here.
        KnowledgeMissing: the knowledge that it names is neither in it nor beside it.
        StoreUnavailable: the file cannot be read, or is no ordinary file.
    """
    examination = _examine_file(path)
    damage = examination.damage
    before = damage[0].line if damage else len(examination.lines) + 1
    lines = tuple(line for number, line in enumerate(examination.lines[: max(0, before - 1)], 1) if line.seq == number)
    if not lines:
        refuse_damage(path, examination)
    digests = examination.digests[: len(lines)]
    notices = () if damage else tuple(fault.message for fault in examination.tear)
    head = Head(len(lines), digests[-1])
    trace = Trace(path, lines, head, notices, knowledge_of_trace(path, examination), digests)
    return trace, damage[0].message if damage else ""


def knowledge_of_trace(path: Path, examination: Examination) -> bytes:
    """The knowledge that the first line of a trace names: what travels with it, or lies beside it.

    Raises:
        KnowledgeMissing: neither does.
    """
    digest = named_in(examination.lines[0].data) if examination.lines else ""
    if not digest:
        return b""
    carried = examination.knowledge
    return carried if carried and digest_of_knowledge(carried) == digest else fetch_knowledge(path, digest)


def travelling(path: Path) -> tuple[bytes, Head]:
    """A trace as one file that can travel, with its knowledge behind it, and its end, which is the same.

    Raises:
        TraceDamaged: the trace does not hold together, or its knowledge is not beside it.
        StoreUnavailable: it cannot be read.
    """
    with opened_to_read(path) as handle:
        content = read_up_to(handle, TRACE_LIMIT_BYTES)
    examination = examine(content)
    refuse_damage(path, examination)
    knowledge = knowledge_of_trace(path, examination)
    whole = content[: examination.size_bytes - len(examination.torn)]
    whole += b"" if whole.endswith(b"\n") else b"\n"
    return whole + (travelling_line(knowledge) if knowledge else b""), examination.head


def export_trace(path: Path, place: Path) -> Path:
    """Write a trace as a file that can travel, where nothing is yet.

    Args:
        path: the trace.
        place: a new file; or a folder, where the trace keeps its name.

    Returns:
        the file.

    Raises:
        TraceDamaged: the trace does not hold together, or its knowledge is not beside it.
        StoreUnavailable: one of them cannot be read or written, or something of that name is there already.
    """
    content, _ = travelling(path)
    place = place / path.name if place.is_dir() else place
    try:
        handle = open_new(place)
        try:
            write_all(handle, content)
            flush(handle)
        except BaseException:
            place.unlink(missing_ok=True)
            raise
        finally:
            os.close(handle)
    except OSError as error:
        raise unavailable(f"{place} cannot be written", error, "Name another file; nothing was lost.") from error
    return place


def verify_trace(path: Path, head: Head | None = None) -> list[TraceFault]:
    """Name every fault of a trace that can be told, by line number; none when it is sound.

    Args:
        path: the trace's file.
        head: an end that was written down earlier. Only with it can lost last lines be noticed.

    Raises:
        StoreUnavailable: the file cannot be read, or is no ordinary file.
    """
    examination = _examine_file(path)
    faults = list(examination.faults)
    if head is not None and not examination.damage:
        faults += compare_end(examination, head)
    return faults


def refuse_damage(path: Path, examination: Examination) -> None:
    """Go no further with a damaged trace.

    Raises:
        TraceDamaged: it is damaged; the message names the first fault.
    """
    if not examination.damage:
        return
    first, *others = examination.damage
    more = f" It is the first of {len(others) + 1} faults." if others else ""
    raise TraceDamaged(f"{path.name} is damaged. {first.message}{more}", _HINTS.get(first.kind, _HINT))


@contextmanager
def opened_to_read(path: Path) -> Iterator[int]:
    """Hold a trace's file open for reading.

    Raises:
        StoreUnavailable: it cannot be opened or read, or is no ordinary file.
    """
    try:
        handle = open_regular(path)
        try:
            yield handle
        finally:
            os.close(handle)
    except OSError as error:
        raise unavailable(f"{path.name} cannot be read", error, "Look at its name and its permissions.") from error


def _examine_file(path: Path) -> Examination:
    with opened_to_read(path) as handle:
        return examine(read_up_to(handle, TRACE_LIMIT_BYTES))
