"""Where sessions, the shop file and what is kept to save time live."""

import os
from pathlib import Path

from platformdirs import user_data_path

SUFFIX = ".jsonl"
"""Of a trace's file."""


def data_folder() -> Path:
    """Name the folder of this user's sessions, whether or not it exists.

    The environment variable TRIAGE_HOME comes first, then the operating system's place for a program's data.
    """
    home = os.environ.get("TRIAGE_HOME")
    return Path(home).absolute() if home else user_data_path("triage", appauthor=False)


def shop_file_path() -> Path:
    """Name the file of the shop's own settings, whether or not it exists."""
    return data_folder() / "shop.yaml"


def shop_trees_folder() -> Path:
    """Name the folder of the shop's own trees, which are laid over the shipped ones; it need not exist."""
    return data_folder() / "trees"


def kept_folder(folder: Path) -> Path:
    """Name the folder of what is kept to save time, beside the sessions of a folder; it may be deleted at any time."""
    return folder / "kept"
