"""The knowledge of a session as it is stored: once beside the traces, under its digest, or behind a file that travels.

Line 1 of a trace names the SHA-256 of its knowledge and nothing else of it. What it is the digest of lies in the folder
`knowledge` beside the trace; a file that travels carries it as one last line of a kind of its own, outside of the
chain, so that mark and digests are the same in both.
"""

import contextlib
import os
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

from triage.errors import KnowledgeMissing
from triage.store.disk import (
    flush,
    flush_folder,
    make_folder,
    open_new,
    open_regular,
    read_up_to,
    unavailable,
    write_all,
)
from triage.store.lines import LINE_LIMIT_BYTES

FOLDER = "knowledge"
_BEFORE, _BETWEEN, _BEHIND = b'{"kind":"knowledge","sha256":"', b'","data":', b"}\n"
_DIGITS = 64


def digest_of_knowledge(content: bytes) -> str:
    """Name stored knowledge by its SHA-256, in hexadecimal."""
    return sha256(content).hexdigest()


def named_in(first: Mapping[str, object]) -> str:
    """The digest that the data of a first line names; empty where the knowledge stands in the line itself."""
    found = first.get("knowledge")
    digest = found.get("sha256") if isinstance(found, dict) and len(found) == 1 else None
    return digest if isinstance(digest, str) else ""


def keep_knowledge(folder: Path, content: bytes) -> None:
    """See that knowledge lies beside the traces of a folder, and return when it is on the disk.

    Raises:
        StoreUnavailable: it cannot be written.
    """
    digest = digest_of_knowledge(content)
    path = _path(folder, digest)
    if _read(path, digest) is not None:
        return
    new = path.with_name(f"{digest}.{os.getpid()}.new")
    try:
        make_folder(path.parent)
        with contextlib.suppress(FileNotFoundError):
            new.unlink()
        handle = open_new(new)
        try:
            write_all(handle, content)
            flush(handle)
        finally:
            os.close(handle)
        new.replace(path)
        flush_folder(path.parent)
    except OSError as error:
        what = f"The knowledge of the session cannot be saved in {path.parent}"
        raise unavailable(
            what, error, "Nothing was begun. Look at the space on its disk and at its permissions."
        ) from error


def fetch_knowledge(trace: Path, digest: str) -> bytes:
    """Read the knowledge that the first line of a trace names, out of the folder beside it.

    Raises:
        KnowledgeMissing: it is not there, or not what the digest names.
    """
    content = _read(_path(trace.parent, digest), digest)
    if content is None:
        raise KnowledgeMissing(
            f"{trace.name} came without its knowledge ({digest[:12]}).",
            "Where it was made, write one that can travel: triage export SESSION --out FILE",
        )
    return content


def travelling_line(content: bytes) -> bytes:
    """The last line of a file that travels."""
    return _BEFORE + digest_of_knowledge(content).encode("ascii") + _BETWEEN + content + _BEHIND


def parted(content: bytes) -> tuple[bytes, bytes | None]:
    """Part what a file holds into its trace and the knowledge that travels behind it.

    Returns:
        the trace, and the knowledge; None where none travels with it, and empty where it is not what its digest names.
    """
    start = content.rfind(b"\n", 0, max(0, len(content) - 1)) + 1
    line = content[start:]
    if not line.startswith(_BEFORE):
        return content, None
    digits = line[len(_BEFORE) :][:_DIGITS]
    carried = line.removesuffix(b"\n").removesuffix(b"}")[len(_BEFORE) + _DIGITS + len(_BETWEEN) :]
    whole = travelling_line(carried)[:-1] == line.removesuffix(b"\n")
    return content[:start], carried if whole and sha256(carried).hexdigest().encode() == digits else b""


def is_travelling(line: bytes) -> bool:
    """Whether a line is the knowledge of a file that travels."""
    return line.startswith(_BEFORE)


def _path(folder: Path, digest: str) -> Path:
    return folder / FOLDER / f"{digest}.json"


def _read(path: Path, digest: str) -> bytes | None:
    try:
        handle = open_regular(path)
    except OSError:
        return None
    try:
        content = read_up_to(handle, LINE_LIMIT_BYTES)
    except OSError:
        return None
    finally:
        os.close(handle)
    return content if digest_of_knowledge(content) == digest else None
