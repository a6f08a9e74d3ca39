"""Files that a command writes where it is told to: whole or not at all, and over no other file unless that was said."""

import argparse
import os
import secrets
import stat
import sys
from pathlib import Path

from triage.errors import StoreUnavailable
from triage.present.cleaning import clean_line


def add_target(parser: argparse.ArgumentParser, option: str, metavar: str, told: str) -> None:
    """Add an option that names a file to write, and the word that lets it replace one.

    Args:
        parser: the command's.
        option: such as "--picture".
        metavar: how help writes the file.
        told: what help says about it.
    """
    parser.add_argument(option, metavar=metavar, type=Path, help=told)
    parser.add_argument("--overwrite", action="store_true", help="replace the file if it is there already")


def refuse_target(path: Path, *, overwrite: bool) -> None:
    """Refuse a file that must not be written, before any work is done for it.

    Raises:
        StoreUnavailable: it is there and was not said to be replaced, or it is a link, folder, pipe or device.
    """
    try:
        status = path.lstat()
    except OSError:  # it is not there, or writing says why it cannot be
        return
    if not stat.S_ISREG(status.st_mode):
        raise StoreUnavailable(
            f"{path} is not an ordinary file; nothing was written.", "Name a file, no link, folder, pipe or device."
        )
    if not overwrite:
        raise _taken(path)


def write_file(path: Path, content: str | bytes, what: str, *, overwrite: bool = False) -> None:
    """Write a file and say where it is.

    Args:
        path: the file.
        content: what is in it; a text as UTF-8.
        what: what it is, such as "tree".
        overwrite: whether a file that is there already is replaced.

    Raises:
        StoreUnavailable: it cannot be written; what stood there before stands as it did.
    """
    from triage.store.disk import unavailable

    refuse_target(path, overwrite=overwrite)
    try:
        _write_whole(path, content.encode() if isinstance(content, str) else content, overwrite=overwrite)
    except FileExistsError as error:
        raise _taken(path) from error
    except OSError as error:
        raise unavailable(f"The {what} was not written to {path}", error, "Name another file.") from error
    sys.stderr.write(f"The {what} is in {clean_line(str(path))}.\n")


def _taken(path: Path) -> StoreUnavailable:
    return StoreUnavailable(
        f"{path} is there already; nothing was written.", "Name another file, or add --overwrite to replace this one."
    )


def _write_whole(path: Path, content: bytes, *, overwrite: bool) -> None:
    """Write beside the file and put it in its place when all of it is on the disk."""
    from triage.store.disk import flush, flush_folder, open_new, write_all

    beside = path.with_name(f".triage-{secrets.token_hex(8)}")
    rights = stat.S_IMODE(path.stat().st_mode) if path.exists() else 0o666
    handle = open_new(beside, rights)
    try:
        try:
            write_all(handle, content)
            flush(handle)
        finally:
            os.close(handle)
        _put(beside, path, overwrite=overwrite)
    finally:
        beside.unlink(missing_ok=True)
    flush_folder(path.parent)


def _put(beside: Path, path: Path, *, overwrite: bool) -> None:
    if not overwrite:
        # A link is made only where the name is free, in one step. Some disks know none: there a look has to do.
        try:
            os.link(beside, path)
        except FileExistsError:
            raise
        except OSError:
            if os.path.lexists(path):
                raise FileExistsError from None
        else:
            return
    beside.replace(path)
