"""A tree as indented text, for a terminal of any width.

The longest way on from a node goes straight down, the others stand before it as branches. So the text moves to the
right only where the tree really branches, however long it is.
"""

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass, field

from triage.knowledge.drawn.captions import caption, detail, ways
from triage.knowledge.models import Knowledge, Tree

_NARROWEST = 32
"""Columns that a text keeps however far right it stands."""


def draw(knowledge: Knowledge, tree: Tree, width: int) -> str:
    """Draw a tree from its start, each node once; where paths meet again the number of the node stands.

    Args:
        knowledge: what the tree names.
        tree: the tree; it has no faults.
        width: columns of the terminal.

    Returns:
        Lines without trailing spaces, each ending in a line feed.
    """
    pen = _Pen(knowledge, tree, width)
    lines = [tree.name, "", *pen.branch(tree.start, "")]
    return "".join(f"{line.rstrip()}\n" for line in lines)


@dataclass
class _Pen:
    """Draws one tree and remembers the numbers that it gave."""

    knowledge: Knowledge
    tree: Tree
    width: int
    numbers: dict[str, int] = field(default_factory=dict)
    heights: dict[str, int] = field(default_factory=dict)

    def branch(self, start: str, indent: str) -> Iterator[str]:
        """Draw a node, the branches off it, and straight below it the longest way on."""
        node_id = start
        while node_id not in self.numbers:
            node = self.tree.nodes[node_id]
            leading_on = sorted(ways(self.knowledge, node), key=lambda way: self.height(way[1]))
            yield from self.node(node_id, indent, indent + ("│ " if leading_on else "  "))
            if not leading_on:
                return
            for names, target in leading_on[:-1]:
                yield from self.wrapped(f"├ {' / '.join(names)}:", indent, indent + "│ ")
                yield from self.branch(target, indent + "│   ")
            names, node_id = leading_on[-1]
            yield from self.wrapped(f"↓ {' / '.join(names)}:", indent, indent + "  ")
        yield from self.wrapped(f"→ {self.title(node_id)}", indent, indent + "  ")

    def node(self, node_id: str, indent: str, below: str) -> Iterator[str]:
        """Number a node, and say what it is and why."""
        self.numbers[node_id] = len(self.numbers) + 1
        node = self.tree.nodes[node_id]
        said = detail(self.knowledge, node)
        yield from self.wrapped(self.title(node_id) + (f" ({said})" if said else ""), indent, below + "  ")
        if node.because:
            yield from self.wrapped(node.because, below, below)

    def title(self, node_id: str) -> str:
        """Name a node that has its number."""
        return f"{self.numbers[node_id]}  {caption(self.knowledge, self.tree.nodes[node_id])}"

    def height(self, node_id: str) -> int:
        """Count the nodes on the longest path from here."""
        if node_id not in self.heights:
            below = [self.height(target) for _, target in ways(self.knowledge, self.tree.nodes[node_id])]
            self.heights[node_id] = 1 + max(below, default=0)
        return self.heights[node_id]

    def wrapped(self, text: str, first: str, later: str) -> list[str]:
        """Break a text into lines, the first and the later ones with their own beginning."""
        room = max(self.width, len(later) + _NARROWEST)
        return textwrap.wrap(text, room, initial_indent=first, subsequent_indent=later, break_on_hyphens=False)
