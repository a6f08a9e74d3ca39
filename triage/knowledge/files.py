"""The files of a folder of knowledge, and one word that stands for all that is in them and for what reads them."""

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Final

from triage import __version__

INTERLOCKS = "interlocks.yaml"
SECTIONS_IN: Final = {
    "sources.yaml": ("sources",),
    "tools.yaml": ("tools",),
    INTERLOCKS: ("hazards", "confirmations", "states"),
    "causes.yaml": ("causes", "circumstances"),
    "signs.yaml": ("signs",),
    "remedies.yaml": ("remedies", "accesses"),
}
"""The files that every folder has, with the sections of each."""
ROUNDS = "rounds.yaml"
"""A file that a folder may have besides."""
CHECKS, TREES, BRANCHES = "checks", "symptoms", "branches"
"""Folders beside them, with any number of files."""
CASES = "cases"
"""The folder of recorded cases, which are no part of the knowledge."""
_PROGRAM = Path(__file__).resolve().parent.parent
_READERS = ("knowledge", "documents", "units")


def listed(folder: Path) -> list[Path]:
    """List the files of one folder."""
    return sorted(folder.glob("*.yaml"))


def fingerprint(folder: Path, over: Path | None = None) -> str:
    """Return a digest of every byte of a folder's files, and of the program that reads and checks them.

    Args:
        folder: what holds sources.yaml and the other files.
        over: a folder that is laid over it.

    Raises:
        OSError: a file cannot be read.
    """
    told = sha256(__version__.encode())
    laid = () if over is None else ((over, _knowledge_files(over)),)
    for root, paths in ((folder, _knowledge_files(folder)), (_PROGRAM, _program_files()), *laid):
        for path in paths:
            content = path.read_bytes()
            told.update(f"\n{path.relative_to(root).as_posix()} {len(content)}\n".encode())
            told.update(content)
    return told.hexdigest()


def _knowledge_files(folder: Path) -> Iterator[Path]:
    yield from (path for path in (folder / name for name in (*SECTIONS_IN, ROUNDS)) if path.exists())
    for name in (CHECKS, TREES, BRANCHES):
        yield from listed(folder / name)


def _program_files() -> Iterator[Path]:
    """A checkout changes without its version: another rule or shape must not find what an older one let pass."""
    for package in _READERS:
        yield from sorted((_PROGRAM / package).rglob("*.py"))
