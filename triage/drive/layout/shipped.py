"""Where a layout is that a person names: a file of their own, or one that came with the program."""

import os
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

from triage.errors import TriageError
from triage.knowledge.shipped import trees_folder

SUFFIX = ".yaml"


def shipped_layouts() -> dict[str, Path]:
    """The layouts that came with the program, by their names."""
    return {file.stem: file for file in sorted((trees_folder() / "layouts").glob(f"*{SUFFIX}"))}


def layout_file(name: str, own: Mapping[str, Path] = MappingProxyType({})) -> Path:
    """Find a layout: a file, one of the shop's own, or one that came with the program, by its name.

    Args:
        name: what a person typed.
        own: the shop's own layouts by their names.

    Raises:
        TriageError: there is no such layout; the hint names those that there are.
    """
    file = Path(name)
    if os.path.lexists(file):  # also a link that leads nowhere: reading it says so
        return file
    shipped = shipped_layouts()
    if name in own or name in shipped:
        return own[name] if name in own else shipped[name]
    shops = f"; or one of the shop's own: {', '.join(own)}" if own else ""
    raise TriageError(
        f"There is no layout file {_short(name)}.",
        f"Name a file, or one that came with the program: {', '.join(shipped)}{shops}.",
    )


def _short(name: str) -> str:
    longest = 80
    return name if len(name) <= longest else f"{name[:longest]}…"
