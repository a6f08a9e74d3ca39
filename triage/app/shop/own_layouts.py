"""The shop's own layouts: files of drives that were entered, in a folder beside the shop file."""

import os
from pathlib import Path

from triage.drive.layout.shipped import SUFFIX, shipped_layouts
from triage.drive.layout.shipped import layout_file as named_file
from triage.record.layout import Layout
from triage.store import data_folder
from triage.store.disk import flush, flush_folder, make_folder, open_new, unavailable, write_all


def layouts_folder() -> Path:
    """Name the folder of the shop's own layouts, whether or not it exists."""
    return data_folder() / "layouts"


def own_layouts() -> dict[str, Path]:
    """The shop's own layouts by their names."""
    return {file.stem: file for file in sorted(layouts_folder().glob(f"*{SUFFIX}"))}


def names_taken() -> tuple[str, ...]:
    """Names under which there is a layout already, and words that mean something else in their place."""
    return (*own_layouts(), *shipped_layouts(), "new", "run")


def layout_file(name: str) -> Path:
    """Find a layout: a file, one of the shop's own, or one that came with the program.

    Raises:
        TriageError: there is no such layout; the hint names those that there are.
    """
    return named_file(name, own_layouts())


def save_layout(name: str, layout: Layout) -> Path:
    """Write a layout into the shop's own folder, whole or not at all.

    Raises:
        StoreUnavailable: it cannot be written, or there is one of that name.
    """
    from triage.documents.writing import write_text

    file = layouts_folder() / f"{name}{SUFFIX}"
    text = write_text(layout.model_dump(mode="json", exclude_none=True, exclude_defaults=True))
    try:
        make_folder(file.parent)
        _write(file, text.encode())
    except OSError as error:
        hint = "Give another name, or free the disk; what was typed still stands."
        raise unavailable(f"The layout was not written to {file}", error, hint) from error
    return file


def _write(file: Path, content: bytes) -> None:
    handle = open_new(file)
    try:
        write_all(handle, content)
        flush(handle)
    except OSError:
        file.unlink(missing_ok=True)
        raise
    finally:
        os.close(handle)
    flush_folder(file.parent)
