"""Where each thing that the trade knows stands in its files, so that a fault can name file, line and column."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from triage.documents import Document
from triage.errors import Place

Path = tuple[str | int, ...]
"""Section, id, then keys and positions down to the part: ("checks", "belt-condition", "outcomes", 0, "sign")."""


@dataclass(frozen=True)
class Origins:
    """The place of every item, and what is named in the files although it could not be read.

    Args:
        items: document and path within it, by section and id; items with faults of shape are here too.
        unread: sections of files that could not be read at all.
        shared: the document of a node that came into a tree from a branch, by symptom and node id.
    """

    items: Mapping[tuple[str, str], tuple[Document, Path]]
    unread: Collection[str] = ()
    shared: Mapping[tuple[str, str], Document] = field(default_factory=dict)

    def place(self, *path: str | int) -> Place:
        """Say where the value at a path stands."""
        document, steps = self._within(path)
        return document.place(steps)

    def place_of_key(self, *path: str | int) -> Place:
        """Say where the key of the value at a path stands."""
        document, steps = self._within(path)
        return document.place_of_key(steps)

    def named(self, section: str) -> list[str]:
        """List the ids that the files name in a section, whether they could be read or not."""
        return [item for owner, item in self.items if owner == section]

    def _within(self, path: Path) -> tuple[Document, Path]:
        if path[0] == "trees" and path[2:3] == ("nodes",) and (str(path[1]), str(path[3:4] and path[3])) in self.shared:
            return self.shared[str(path[1]), str(path[3])], ("nodes", *path[3:])
        document, steps = self.items[str(path[0]), str(path[1])]
        return document, (*steps, *path[2:])
