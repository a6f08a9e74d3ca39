"""Where the trees, demo sessions and pages are that came with the program: in its package, or in the checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def trees_folder() -> Path:
    """The folder of the shipped knowledge."""
    return _shipped("trees")


def demos_folder() -> Path:
    """The folder of the shipped demo sessions."""
    return _shipped("transcripts_demo")


def pages_folder() -> Path:
    """The folder of the pages that a user needs at hand: safety.md, and shop-example.yaml to begin a shop file with."""
    return _shipped("docs")


def _shipped(name: str) -> Path:
    packaged = _PACKAGE / "data" / name
    return packaged if packaged.is_dir() else _PACKAGE.parent / name
