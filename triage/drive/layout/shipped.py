"""Where a layout is that a person names: a file of their own, or one that came with the program."""

import os
from pathlib import Path

from triage.errors import TriageError
from triage.knowledge.shipped import trees_folder

SUFFIX = ".yaml"


def layout_file(name: str) -> Path:
    """Find a layout: a file, or one that came with the program by its name.

    Raises:
        TriageError: there is no such layout; the hint names those that came with the program.
    """
    own, folder = Path(name), trees_folder() / "layouts"
    if os.path.lexists(own):  # also a link that leads nowhere: reading it says so
        return own
    shipped = {file.stem: file for file in sorted(folder.glob(f"*{SUFFIX}"))}
    if name in shipped:
        return shipped[name]
    raise TriageError(
        f"There is no layout file {_short(name)}.",
        f"Name a file, or one that came with the program: {', '.join(shipped)}.",
    )


def _short(name: str) -> str:
    longest = 80
    return name if len(name) <= longest else f"{name[:longest]}…"
