"""How a run went, drawn over time: characters for a terminal, and one SVG that needs no script and no network."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

MARKS = "*+o#x%@=~^&"
"""A character for each line, so that nothing hangs on colour."""
DASHES = ("", "6 3", "2 3", "9 3 2 3", "1 2", "12 4", "4 1", "8 2 2 2 2 2", "3 6", "10 6", "5 5")
"""A dash for each line in the picture, for the same reason."""
_LEFT = 9


@dataclass(frozen=True)
class Panel:
    """One quantity over time.

    Args:
        title: what it is, with its unit.
        lines: its values, one sequence a variant, as long as the times.
    """

    title: str
    lines: Sequence[Sequence[float]]


def chart(times_s: Sequence[float], panel: Panel, names: Sequence[str], columns: int = 80, rows: int = 12) -> str:
    """Draw a panel out of plain characters.

    Args:
        times_s: k times, ascending [s].
        panel: its lines with k values each.
        names: one a line.
        columns: characters to a line at most [1].
        rows: lines for the values [1].

    Returns:
        text: title, lines of values with their scale at the left, time below, and which mark is which.

    Source: common-practice
    """
    low, high = _ends(panel)
    wide = columns - _LEFT - 2
    cells = [[" "] * wide for _ in range(rows)]
    span_s = (times_s[-1] - times_s[0]) or 1.0
    for mark, line in zip(MARKS, panel.lines, strict=False):
        for time_s, value in zip(times_s, line, strict=True):
            column = min(int((time_s - times_s[0]) / span_s * wide), wide - 1)
            row = rows - 1 - min(int((value - low) / (high - low) * rows), rows - 1)
            cells[row][column] = mark
    scale = {0: high, rows - 1: low}
    lines = [
        f"{_number(scale[at]) if at in scale else '':>{_LEFT}} |{''.join(row).rstrip()}" for at, row in enumerate(cells)
    ]
    foot = f"{'':>{_LEFT}}  {times_s[0]:.2f} s{f'{times_s[-1]:.2f} s':>{wide - 7}}"
    legend = [f"  {mark} {name}" for mark, name in zip(MARKS, names, strict=False)]
    return "\n".join([panel.title, *lines, foot, *(legend if len(names) > 1 else [])]) + "\n"


def drawing(times_s: Sequence[float], panels: Sequence[Panel], names: Sequence[str], title: str, summary: str) -> str:
    """Draw panels below each other as an svg element; title and summary are what a person who does not see it is told.

    Args:
        times_s: k times, ascending [s].
        panels: at least one, their lines with k values each.
        names: one a line.
        title: one sentence.
        summary: the page in words.

    Returns:
        the text of the picture.

    Source: common-practice
    """
    height = len(panels) * (_HIGH + _GAP) + 40 + 18 * len(names)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {_WIDE + 110} {height}">',
        f"<title>{escape(title)}</title>",
        f"<desc>{escape(summary)}</desc>",
        f"<style>{_STYLE}</style>",
        f'<rect width="{_WIDE + 110}" height="{height}" fill="#fff"/>',
    ]
    for at, panel in enumerate(panels):
        parts += _panel(times_s, panel, 30 + at * (_HIGH + _GAP))
    begin = 30 + len(panels) * (_HIGH + _GAP)
    for at, name in enumerate(names):
        y = begin + 18 * at
        parts.append(
            f'<path d="M80 {y - 4}h40" stroke-dasharray="{DASHES[at % len(DASHES)]}" class="l{at % _COLOURS}"/>'
        )
        parts.append(f'<text x="130" y="{y}">{escape(name)}</text>')
    return "\n".join([*parts, "</svg>"]) + "\n"


_WIDE, _HIGH, _GAP, _COLOURS = 640, 150, 50, 4
_STYLE = (
    "text{font:13px sans-serif;fill:#111}path{fill:none;stroke-width:1.3}.f{stroke:#777}"
    ".l0{stroke:#111}.l1{stroke:#06c}.l2{stroke:#b30}.l3{stroke:#074}"
)


def _panel(times_s: Sequence[float], panel: Panel, top: int) -> list[str]:
    low, high = _ends(panel)
    begun, span_s = times_s[0], (times_s[-1] - times_s[0]) or 1.0
    parts = [
        f'<text x="80" y="{top - 8}">{escape(panel.title)}</text>',
        f'<path class="f" d="M80 {top}v{_HIGH}h{_WIDE}"/>',
        f'<text x="74" y="{top + 10}" text-anchor="end">{_number(high)}</text>',
        f'<text x="74" y="{top + _HIGH}" text-anchor="end">{_number(low)}</text>',
        f'<text x="80" y="{top + _HIGH + 16}">{begun:.2f} s</text>',
        f'<text x="{80 + _WIDE}" y="{top + _HIGH + 16}" text-anchor="end">{times_s[-1]:.2f} s</text>',
    ]
    for at, line in enumerate(panel.lines):
        points = (
            f"{80 + (time_s - begun) / span_s * _WIDE:.1f} {top + _HIGH - (value - low) / (high - low) * _HIGH:.1f}"
            for time_s, value in zip(times_s, line, strict=True)
        )
        dash = f' stroke-dasharray="{DASHES[at % len(DASHES)]}"' if DASHES[at % len(DASHES)] else ""
        parts.append(f'<path class="l{at % _COLOURS}"{dash} d="M{"L".join(points)}"/>')
    return parts


def _ends(panel: Panel) -> tuple[float, float]:
    low, high = min(min(line) for line in panel.lines), max(max(line) for line in panel.lines)
    return (low, high) if high > low else (low - 1.0, high + 1.0)


def _number(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"
