"""The one that writes a trace. What `append` has returned from is on the disk; what it refused is nowhere."""

import contextlib
import os
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from triage.errors import NotSaved, StoreUnavailable
from triage.store.disk import (
    NO_LOCKS,
    flush,
    flush_folder,
    keep_private,
    lock,
    make_folder,
    open_new,
    open_regular,
    read_up_to,
    unavailable,
    write_all,
)
from triage.store.examine import TRACE_LIMIT_BYTES, examine
from triage.store.faults import LineError
from triage.store.folders import SUFFIX
from triage.store.head import Head
from triage.store.knowledge import keep_knowledge
from triage.store.lines import Line, encode
from triage.store.torn import mend
from triage.store.traces import knowledge_of_trace, refuse_damage
from triage.store.written import Written

_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._-]{0,98}[A-Za-z0-9])?")
# A trace must be able to travel to Windows, where these are devices.
_DEVICE = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\..*)?", re.IGNORECASE)
_LOOK = "Nothing was lost. Look at the folder, its permissions and the space on its disk."
_TRY_AGAIN = "Put that right and give the answer again. Everything before it is saved."


class NameTaken(StoreUnavailable):
    """A trace cannot be begun under a name, because something of that name is there."""


class TraceWriter:
    """Writes one trace and keeps every other writer off it until it is closed.

    Attributes:
        path: the trace's file.
        knowledge: what its first line names, as stored; empty where the knowledge stands in the line itself.
    """

    def __init__(self, path: Path, handle: int, head: Head, written: Written) -> None:
        """Take over a file that is open and locked; use `create` or `reopen`."""
        self.path = path
        self.knowledge = b""
        self._handle = handle
        self._head = head
        self._written = written
        self._ragged = False

    @classmethod
    def create(cls, folder: Path, name: str) -> "TraceWriter":
        """Begin a trace in a file that does not exist yet. Closed without a line, the file is gone again.

        Args:
            folder: made, for its owner alone, if it does not exist.
            name: letters, digits, dots, hyphens and underscores, without the suffix.

        Raises:
            NameTaken: something of that name is there.
            StoreUnavailable: the name is not allowed, the folder cannot be written, or its disk keeps no locks.
        """
        path, handle = _begun(folder, name)
        return cls(path, handle, Head(0, ""), Written())

    @classmethod
    def reopen(cls, path: Path) -> "tuple[TraceWriter, tuple[Line, ...], tuple[str, ...]]":
        """Go on with a trace. A torn last line is set aside in a file next to it.

        Args:
            path: the trace's file.

        Returns:
            the writer, every line so far, and what the user must be told.

        Raises:
            TraceDamaged: the trace is damaged, or came without its knowledge; nothing was changed.
            StoreUnavailable: another writer has it, or it cannot be written.
        """
        with _explained(f"The trace {path.name} cannot be resumed"), contextlib.ExitStack() as undo:
            handle = open_regular(path, to_append=True)
            undo.callback(os.close, handle)
            _lock(path, handle)
            content = read_up_to(handle, TRACE_LIMIT_BYTES)
            examination = examine(content)
            refuse_damage(path, examination)
            knowledge = knowledge_of_trace(path, examination)
            if examination.knowledge is not None:
                # First beside the trace, then cut off behind it: stopped in between, there are two and not none.
                keep_knowledge(path.parent, knowledge)
                os.ftruncate(handle, examination.size_bytes)
                flush(handle)
            size_bytes, notices = mend(path, handle, examination, examination.size_bytes)
            keep_private(handle)
            written = Written((content[: examination.size_bytes] + b"\n")[:size_bytes])
            undo.pop_all()
        writer = cls(path, handle, examination.head, written)
        writer.knowledge = knowledge
        return writer, examination.lines, notices

    @property
    def head(self) -> Head:
        """Where the trace ends now."""
        return self._head

    def append(self, lines: Sequence[Line]) -> None:
        """Save lines, all or none, and return when they are on the disk. The writer stays usable after a refusal.

        Args:
            lines: numbered on from the head's count.

        Raises:
            StoreUnavailable: the disk is full or fails, a line holds what cannot be saved, or the file was altered.
            ValueError: a line's number does not follow.
        """
        content, head = self._encoded(lines)
        self.expect_unaltered()
        try:
            for raw in content:
                write_all(self._handle, raw)
            flush(self._handle)
            self._written.grow(content)
            self._head = head
        except OSError as error:
            self._cut_back()
            told = unavailable(f"The answer cannot be saved in {self.path.name}", error, _TRY_AGAIN)
            raise NotSaved(told.message, told.hint) from error
        except BaseException:
            self._cut_back()
            raise

    def keep_knowledge(self, content: bytes) -> None:
        """See that the knowledge of the session lies beside its trace, before the first line names it.

        Raises:
            StoreUnavailable: it cannot be written.
        """
        keep_knowledge(self.path.parent, content)
        self.knowledge = content

    def copy_to(self, path: Path, lines: Sequence[Line]) -> "TraceWriter":
        """Write everything that was saved, and further lines behind it, as a new trace.

        Args:
            path: where; nothing may be there yet.
            lines: numbered on from the head's count.

        Raises:
            StoreUnavailable: it cannot be written there.
        """
        path, handle = _begun(path.parent, path.name.removesuffix(SUFFIX))
        # From memory: its own file may be gone, or altered.
        content = self._written.content
        with _explained(f"The copy {path} cannot be written"), contextlib.ExitStack() as undo:
            undo.callback(path.unlink, missing_ok=True)
            undo.callback(os.close, handle)
            write_all(handle, content)
            flush(handle)
            copy = TraceWriter(path, handle, self.head, Written(content))
            if self.knowledge:
                copy.keep_knowledge(self.knowledge)
            if lines:
                copy.append(lines)
            undo.pop_all()
        return copy

    def close(self) -> None:
        """Let other writers have the trace."""
        if self._handle < 0:
            return
        if self._ragged:
            self._cut_back()
        handle, self._handle = self._handle, -1
        os.close(handle)
        if not self.head.count:
            with contextlib.suppress(OSError):
                self.path.unlink()

    def _encoded(self, lines: Sequence[Line]) -> tuple[list[bytes], Head]:
        content = []
        head = self._head
        for line in lines:
            if line.seq != head.count + 1:
                raise ValueError(f"line {line.seq} cannot follow line {head.count}")
            try:
                raw, digest = encode(line, head.digest)
            except LineError as fault:
                message = f"The answer cannot be saved: line {line.seq} {fault.reason}."
                raise StoreUnavailable(message, "Say it in another way. Everything before it is saved.") from None
            content.append(raw)
            head = Head(line.seq, digest)
        if self._written.size_bytes + sum(map(len, content)) > TRACE_LIMIT_BYTES:
            message = f"{self.path.name} is full: a trace has at most {TRACE_LIMIT_BYTES >> 20} MiB."
            raise NotSaved(message, "Everything so far is saved. Go on in a new session.")
        return content, head

    def expect_unaltered(self) -> None:
        """Look whether the file is still the one that was written.

        Raises:
            NotSaved: it was altered or deleted, or cannot be mended.
        """
        if self._ragged:
            self._cut_back()
        if self._ragged or not self._stands():
            raise NotSaved(
                f"The answer cannot be saved: {self.path.name} cannot be mended, or was altered or deleted meanwhile.",
                "Every answer that was taken is still here, and can be saved in another place.",
            )

    def _stands(self) -> bool:
        try:
            return self._written.stands_in(self._handle)
        except OSError:
            return False

    def _cut_back(self) -> None:
        # Until it has worked, nothing may be written behind the leftovers.
        self._ragged = True
        with contextlib.suppress(OSError):
            os.ftruncate(self._handle, self._written.size_bytes)
            flush(self._handle)
            self._ragged = False


def _begun(folder: Path, name: str) -> tuple[Path, int]:
    """A new file for a trace, locked, and its handle."""
    _refuse_name(name)
    path = folder / f"{name}{SUFFIX}"
    with _explained(f"The trace {path} cannot be begun"), contextlib.ExitStack() as undo:
        make_folder(folder)
        try:
            handle = open_new(path)
        except FileExistsError as error:
            raise NameTaken(f"There is a session {name} already.", "Give another name.") from error
        undo.callback(path.unlink, missing_ok=True)
        undo.callback(os.close, handle)
        _lock(path, handle)
        flush_folder(folder)
        undo.pop_all()
    return path, handle


@contextlib.contextmanager
def _explained(what: str) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise unavailable(what, error, _LOOK) from error


def _refuse_name(name: str) -> None:
    if not _NAME.fullmatch(name) or _DEVICE.fullmatch(name):
        raise StoreUnavailable(
            f"{name[:40]!r} cannot be the name of a trace on every system.",
            "Use letters, digits, dots, hyphens and underscores, at most 100, with a letter or digit at both ends.",
        )


def _lock(path: Path, handle: int) -> None:
    try:
        locked = lock(handle)
    except OSError as error:
        if error.errno not in NO_LOCKS:
            raise
        raise StoreUnavailable(
            f"The disk or network folder of {path.parent} keeps no locks, so two could write one session.",
            "Set TRIAGE_HOME to a folder on this machine's own disk and copy the sessions there. Nothing was lost.",
        ) from error
    if not locked:
        raise StoreUnavailable(
            f"{path.name} is open for writing elsewhere.",
            "Close the session there and try again, or only look at it with triage show.",
        )
