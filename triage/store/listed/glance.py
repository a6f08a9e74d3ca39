"""A trace at a glance: what its first and last line say, not what is between them."""

from dataclasses import dataclass
from io import SEEK_END
from pathlib import Path
from typing import BinaryIO, Literal

from triage.errors import StoreUnavailable
from triage.store.chain import Record
from triage.store.faults import LineError
from triage.store.knowledge import is_travelling
from triage.store.lines import LINE_LIMIT_BYTES, Line, digest_of, opening_line, split_seal
from triage.store.traces import opened_to_read

_FIRST_WINDOW_BYTES = 64 * 1024
Now = Literal["open", "paused", "closed"]
"""Whether anything is left to do in a session, by the last step that it offered."""


@dataclass(frozen=True)
class Summary:
    """A trace at a glance.

    Attributes:
        path: its file.
        job: the job that it is for.
        symptom: what the session began with.
        saved_ms: when its last line was written, since the UTC epoch [ms]; 0 where that cannot be read.
        count: number of lines, as the last one says.
        now: whether anything is left to do in it.
        proof: what is proved of its complaint, where it was left or ended after a repair.
        fault: why it cannot be opened as it is; empty if nothing shows at a glance. Only verifying finds the others.
    """

    path: Path
    job: str = ""
    symptom: str = ""
    saved_ms: int = 0
    count: int = 0
    now: Now = "open"
    proof: str = ""
    fault: str = ""


def glance(path: Path) -> Summary:
    """Look at the first and the last line of a file."""
    try:
        with opened_to_read(path) as handle, open(handle, "rb", closefd=False) as file:
            opening = file.readline(LINE_LIMIT_BYTES + 1)
            ending = _last_record(file)
    except StoreUnavailable as error:
        return Summary(path, fault=error.message)
    if not opening:
        return Summary(path, fault="Nothing was ever saved in it.")
    first = _first_line(opening.removesuffix(b"\n") + b"\n")
    if isinstance(first, str):
        return Summary(path, fault=first)
    job, symptom = (str(first.data.get(key, "")) for key in ("job", "symptom"))
    last = ending.content
    if isinstance(last, LineError):
        return Summary(path, job, symptom, fault=f"The last line {last.reason}.")
    return Summary(path, job, symptom, last.at_ms, last.seq, _now(last), _proof(last))


def _now(last: Line) -> Now:
    step = last.data.get("step")
    kind = step.get("kind") if isinstance(step, dict) else None
    return "paused" if kind == "paused" else "closed" if kind == "closed" else "open"


def _proof(last: Line) -> str:
    step = last.data.get("step")
    proof = step.get("proof") if isinstance(step, dict) else None
    return proof if isinstance(proof, str) else ""


def _first_line(raw: bytes) -> Line | str:
    """Read the first line, or say what is wrong with it."""
    try:
        line = opening_line(raw)
    except LineError as fault:
        return f"Line 1 {fault.reason}."
    body, digest = split_seal(raw)
    if line.seq != 1 or digest_of("", body) != digest:
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
        if len(whole) > 1 and is_travelling(whole[-1]):
            del whole[-1]
        # The window's first piece may be the end of a longer line.
        if len(whole) > 1 or window >= min(size, 2 * LINE_LIMIT_BYTES):
            return Record.read(whole[-1] + b"\n") if whole else unended
        window *= 8
