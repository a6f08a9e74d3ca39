"""A tree as a picture: one SVG file that needs nothing else.

Nodes stand in columns, each right of everything that leads to it. Each way on has its own row in its node, and its
line begins there, so that no label lies on a line. Lines to the same node run together from column to column.
"""

import textwrap
from dataclasses import dataclass, field
from html import escape
from typing import Final

import networkx as nx

from triage.knowledge.drawn.captions import caption, detail, ways
from triage.knowledge.models import Knowledge, Tree

_BOX_WIDTH: Final = 250
_COLUMN: Final = 330
_GAP: Final = 26
_LINE: Final = 17
_MARGIN: Final = 24
_CHARACTERS: Final = 34
"""That fit into a box at the size of its text."""

_STYLE: Final = (
    "text{font:12px sans-serif;fill:#111}.title{font-weight:bold}.detail{font-style:italic}"
    "rect{fill:#fff;stroke:#111}.leaf{stroke-width:2.5}path{fill:none;stroke:#555;stroke-width:1.2}"
)


@dataclass
class _Box:
    """A node to draw, or a gap in a column that lines pass through.

    Args:
        title: lines of its name.
        detail: lines of how it is done.
        rows: lines and target of each way on.
        left, top: of its upper left corner.
    """

    title: list[str] = field(default_factory=list)
    detail: list[str] = field(default_factory=list)
    rows: list[tuple[list[str], str]] = field(default_factory=list)
    left: int = 0
    top: float = 0.0

    @property
    def height(self) -> int:
        """Height; a gap has none."""
        lines = len(self.title) + len(self.detail) + sum(len(row) for row, _ in self.rows)
        return lines * _LINE + 14 if lines else 0


_Key = tuple[str, int]
"""A node and a column: the node's own, or one that lines to it pass through."""


def picture(knowledge: Knowledge, tree: Tree) -> str:
    """Draw a tree.

    Args:
        knowledge: what the tree names.
        tree: the tree; it has no faults.

    Returns:
        The text of an SVG file, with a title for those who do not see it.
    """
    columns = _columns(tree)
    boxes = {(node_id, columns[node_id]): _box(knowledge, tree, node_id) for node_id in columns}
    for node_id, column in columns.items():
        for _, target in ways(knowledge, tree.nodes[node_id]):
            boxes.update({(target, between): _Box() for between in range(column + 1, columns[target])})
    width, height = _place(boxes, columns)
    lines = [path for (node_id, column), box in boxes.items() for path in _lines(boxes, columns, box, node_id, column)]
    drawn = [_drawn(box) for box in boxes.values() if box.title]
    title = escape(f"{tree.name}: which check comes next")
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="name" viewBox="0 0 {width} {height:.0f}" '
        f'width="{width}" height="{height:.0f}"><title id="name">{title}</title><style>{_STYLE}</style>'
        f'<rect width="{width}" height="{height:.0f}" stroke-width="0"/>'
    )
    return "\n".join([head, *dict.fromkeys(lines), *drawn, "</svg>\n"])


def _columns(tree: Tree) -> dict[str, int]:
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_node(tree.start)
    for node_id, node in tree.nodes.items():
        targets = [*node.next.values(), *node.by_pulley.values(), node.cannot, node.skip]
        graph.add_edges_from((node_id, target) for target in targets if target)
    generations = nx.topological_generations(graph)
    return {node_id: column for column, layer in enumerate(generations) for node_id in layer}


def _box(knowledge: Knowledge, tree: Tree, node_id: str) -> _Box:
    node = tree.nodes[node_id]
    rows = [(_fitted("› " + " / ".join(names)), target) for names, target in ways(knowledge, node)]
    return _Box(_fitted(caption(knowledge, node)), _fitted(detail(knowledge, node)), rows)


def _fitted(text: str) -> list[str]:
    return textwrap.wrap(text, _CHARACTERS)


def _place(boxes: dict[_Key, _Box], columns: dict[str, int]) -> tuple[int, float]:
    """Give each box its corner, column by column, near the middle of what leads to it; return width and height."""
    count = max(columns.values()) + 1
    tallest = 0.0
    wished: dict[_Key, list[float]] = {}
    for column in range(count):
        here = [key for key in boxes if key[1] == column]
        here.sort(key=lambda key: _middle(wished.get(key, [0.0])))
        top = float(_MARGIN)
        for key in here:
            box = boxes[key]
            box.left = _MARGIN + column * _COLUMN
            box.top = max(top, _middle(wished.get(key, [0.0])) - box.height / 2)
            top = box.top + box.height + _GAP
            for target, y in _starts(box, key[0]):
                wished.setdefault((target, column + 1), []).append(y)
        tallest = max(tallest, top)
    return 2 * _MARGIN + (count - 1) * _COLUMN + _BOX_WIDTH, tallest


def _middle(heights: list[float]) -> float:
    return sum(heights) / len(heights)


def _starts(box: _Box, node_id: str) -> list[tuple[str, float]]:
    """Where lines leave a box, each with its target; a gap passes on the lines to its own node."""
    if not box.title:
        return [(node_id, box.top)]
    y = box.top + 7 + (len(box.title) + len(box.detail)) * _LINE
    starts = []
    for row, target in box.rows:
        starts.append((target, y + len(row) * _LINE / 2))
        y += len(row) * _LINE
    return starts


def _lines(boxes: dict[_Key, _Box], columns: dict[str, int], box: _Box, node_id: str, column: int) -> list[str]:
    paths = []
    for target, y in _starts(box, node_id):
        end = boxes[target, column + 1]
        begin, middle = box.left + _BOX_WIDTH, (box.left + _BOX_WIDTH + end.left) / 2
        landing = end.top + (12 if end.title else 0)
        onward = f" H{end.left + _BOX_WIDTH}" if column + 1 < columns[target] else ""
        curve = f"C{middle:.0f},{y:.0f} {middle:.0f},{landing:.0f} {end.left},{landing:.0f}"
        paths.append(f'<path d="M{begin},{y:.0f} {curve}{onward}"/>')
    return paths


def _drawn(box: _Box) -> str:
    leaf = "" if box.rows else ' class="leaf"'
    parts = [f'<rect x="{box.left}" y="{box.top:.0f}" width="{_BOX_WIDTH}" height="{box.height}" rx="4"{leaf}/>']
    styled = [("title", line) for line in box.title] + [("detail", line) for line in box.detail]
    styled += [("row", line) for row, _ in box.rows for line in row]
    for number, (style, line) in enumerate(styled, start=1):
        y = box.top + 3 + number * _LINE
        parts.append(f'<text class="{style}" x="{box.left + 8}" y="{y:.0f}">{escape(line)}</text>')
    return "".join(parts)
