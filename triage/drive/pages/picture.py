"""A drive as a picture: one SVG that needs no script, no outside font and no network."""

import math
from collections.abc import Sequence
from html import escape
from itertools import pairwise

from triage.drive.mechanics.geometry import BeltPath, Circle, Point, Span

_MARGIN_MM = 25.0
_STYLE = (
    "text{font:14px sans-serif;fill:#111;text-anchor:middle}circle{fill:#eee;stroke:#111;stroke-width:1.5}"
    ".back{stroke-dasharray:5 3}.belt{fill:none;stroke:#111;stroke-width:4}.way{fill:#111}"
)


def picture(route: BeltPath, names: Sequence[str], title: str) -> str:
    """Draw pulleys and belt to scale as an svg element, one user unit a millimetre, each pulley with its name.

    Pulleys on the belt's back have a dashed rim, so that nothing hangs on colour. The title is what a person who does
    not see the picture is told.
    """
    frame = _Frame(route.circles)
    said = escape(title)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {frame.width:.0f} {frame.height:.0f}">',
        f"<title>{said}</title>",
        f"<style>{_STYLE}</style>",
        f'<rect width="{frame.width:.0f}" height="{frame.height:.0f}" fill="#fff"/>',
    ]
    for circle in route.circles:
        x, y = frame.at((circle.x_m, circle.y_m))
        style = ' class="back"' if circle.on_back else ""
        parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{circle.radius_m * 1000:.1f}"{style}/>')
    parts.append(f'<path class="belt" d="{_belt(route, frame)}"/>')
    parts += [_arrow(span, frame) for span in route.spans]
    for circle, name in zip(route.circles, names, strict=True):
        x, y = frame.at((circle.x_m, circle.y_m))
        parts.append(f'<text x="{x:.1f}" y="{y + 5:.1f}">{escape(name)}</text>')
    return "\n".join([*parts, "</svg>"]) + "\n"


def _arrow(span: Span, frame: "_Frame") -> str:
    """The way the belt runs, as a triangle in the middle of a span."""
    x, y = frame.at(((span.start[0] + span.end[0]) / 2, (span.start[1] + span.end[1]) / 2))
    turn_deg = -math.degrees(span.heading_rad)
    return f'<path class="way" d="M-9 -8L11 0L-9 8Z" transform="translate({x:.1f} {y:.1f}) rotate({turn_deg:.1f})"/>'


class _Frame:
    """Millimetres with y down, as SVG counts, from metres with y up."""

    def __init__(self, circles: Sequence[Circle]) -> None:
        self._left = min(c.x_m - c.radius_m for c in circles)
        self._top = max(c.y_m + c.radius_m for c in circles)
        self.width = (max(c.x_m + c.radius_m for c in circles) - self._left) * 1000 + 2 * _MARGIN_MM
        self.height = (self._top - min(c.y_m - c.radius_m for c in circles)) * 1000 + 2 * _MARGIN_MM

    def at(self, point: Point) -> Point:
        return (point[0] - self._left) * 1000 + _MARGIN_MM, (self._top - point[1]) * 1000 + _MARGIN_MM


def _belt(route: BeltPath, frame: _Frame) -> str:
    x, y = frame.at(route.spans[0].start)
    strokes = [f"M{x:.1f} {y:.1f}"]
    wraps = [*zip(route.circles, route.wraps_rad, route.turns, strict=True)]
    for (span, following), (circle, wrap, turn) in zip(
        pairwise([*route.spans, route.spans[0]]), [*wraps[1:], wraps[0]], strict=True
    ):
        x, y = frame.at(span.end)
        strokes.append(f"L{x:.1f} {y:.1f}")
        x, y = frame.at(following.start)
        radius = circle.radius_m * 1000
        # With y down a counter-clockwise turn is the one that SVG counts as negative.
        strokes.append(f"A{radius:.1f} {radius:.1f} 0 {int(wrap > math.pi)} {int(turn < 0)} {x:.1f} {y:.1f}")
    return " ".join(strokes) + "Z"
