"""A tree as indented text, for a terminal of any width."""

import textwrap
from collections.abc import Iterator

from triage.knowledge.captions import caption, detail, ways
from triage.knowledge.models import Knowledge, Tree

_NARROWEST = 40
"""Columns that a text keeps however deep it stands."""


def draw(knowledge: Knowledge, tree: Tree, width: int) -> str:
    """Draw a tree from its start, each node once; where paths meet again the number of the node stands.

    Args:
        knowledge: what the tree names.
        tree: the tree; it has no faults.
        width: columns of the terminal.

    Returns:
        Lines without trailing spaces, each ending in a line feed.
    """
    numbers: dict[str, int] = {}
    lines = [tree.name, "", *_branch(knowledge, tree, tree.start, numbers, "", width)]
    return "".join(f"{line.rstrip()}\n" for line in lines)


def _branch(
    knowledge: Knowledge, tree: Tree, node_id: str, numbers: dict[str, int], indent: str, width: int
) -> Iterator[str]:
    """Draw a node and all that is below it."""
    node = tree.nodes[node_id]
    if node_id in numbers:
        yield from _wrapped(f"→ {numbers[node_id]}  {caption(knowledge, node)}", indent, indent + "  ", width)
        return
    numbers[node_id] = len(numbers) + 1
    title = f"{numbers[node_id]}  {caption(knowledge, node)}"
    said = detail(knowledge, node)
    leading_on = ways(knowledge, node)
    bar = indent + ("│ " if leading_on else "  ")
    yield from _wrapped(f"{title} ({said})" if said else title, indent, bar + "  ", width)
    if node.because:
        yield from _wrapped(node.because, bar, bar, width)
    for position, (names, target) in enumerate(leading_on):
        last = position == len(leading_on) - 1
        below = indent + ("  " if last else "│ ")
        yield from _wrapped(" / ".join(names) + ":", indent + ("└ " if last else "├ "), below, width)
        yield from _branch(knowledge, tree, target, numbers, below, width)


def _wrapped(text: str, first: str, later: str, width: int) -> list[str]:
    room = max(width, len(later) + _NARROWEST)
    return textwrap.wrap(text, room, initial_indent=first, subsequent_indent=later, break_on_hyphens=False)
