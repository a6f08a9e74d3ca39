"""A drive drawn to scale out of plain characters, for every terminal and for a screen reader to skip."""

import math

from triage.drive.mechanics.geometry import BeltPath, Point

CELL_HEIGHT_OVER_WIDTH = 2.0
"""Characters are about twice as high as wide in usual terminals; common practice."""
_RIM, _BACK_RIM, _BELT = "o", "x", "."
_ROOM_ROUND_RIM = 1.05


def sketch(route: BeltPath, columns: int = 76, rows: int = 20) -> str:
    """Draw pulleys and belt, each pulley with its number in belt order at its centre.

    Ribbed pulleys are rings of o, pulleys on the belt's back rings of x, the belt is dots with an arrow on every span
    the way it runs. All cells stand for the same length, so that the drawing is to scale.

    Args:
        route: path of the belt over n pulleys.
        columns: characters to a line at most [1].
        rows: lines at most [1].

    Returns:
        text of at most that size, no line longer than it needs to be.

    Source: common-practice
    """
    canvas = _Canvas(route, columns, rows)
    for span in route.spans:
        canvas.draw(_between(span.start, span.end, 4 * columns), _BELT)
    for circle in route.circles:
        centre = circle.x_m, circle.y_m
        canvas.draw(_around(centre, circle.radius_m, 8 * rows), _BACK_RIM if circle.on_back else _RIM)
    for span in route.spans:
        middle = (span.start[0] + span.end[0]) / 2, (span.start[1] + span.end[1]) / 2
        canvas.draw([middle], _arrow(span.heading_rad))
    for number, circle in enumerate(route.circles, start=1):
        canvas.write(str(number), (circle.x_m, circle.y_m))
    return canvas.text()


def _arrow(heading_rad: float) -> str:
    ahead, up = math.cos(heading_rad), math.sin(heading_rad)
    if abs(ahead) >= abs(up):
        return ">" if ahead > 0 else "<"
    return "^" if up > 0 else "v"


class _Canvas:
    """Cells of characters over the plane of the belt."""

    def __init__(self, route: BeltPath, columns: int, rows: int) -> None:
        circles = route.circles
        self._left = min(c.x_m - _ROOM_ROUND_RIM * c.radius_m for c in circles)
        self._top = max(c.y_m + _ROOM_ROUND_RIM * c.radius_m for c in circles)
        width = max(c.x_m + _ROOM_ROUND_RIM * c.radius_m for c in circles) - self._left
        height = self._top - min(c.y_m - _ROOM_ROUND_RIM * c.radius_m for c in circles)
        self._cell_m = max(width / (columns - 1), height / (rows - 1) / CELL_HEIGHT_OVER_WIDTH)
        self._cells = [[" "] * columns for _ in range(rows)]

    def draw(self, points: list[Point], character: str) -> None:
        for point in points:
            row, column = self._cell(point)
            self._cells[row][column] = character

    def write(self, word: str, centre: Point) -> None:
        row, column = self._cell(centre)
        for offset, character in enumerate(word):
            self._cells[row][min(column + offset, len(self._cells[row]) - 1)] = character

    def text(self) -> str:
        lines = ["".join(line).rstrip() for line in self._cells]
        used = [number for number, line in enumerate(lines) if line]
        return "\n".join(lines[used[0] : used[-1] + 1])

    def _cell(self, point: Point) -> tuple[int, int]:
        column = round((point[0] - self._left) / self._cell_m)
        row = round((self._top - point[1]) / self._cell_m / CELL_HEIGHT_OVER_WIDTH)
        return row, column


def _between(start: Point, end: Point, steps: int) -> list[Point]:
    shares = (step / steps for step in range(steps + 1))
    return [(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])) for share in shares]


def _around(centre: Point, radius_m: float, steps: int) -> list[Point]:
    angles = (2 * math.pi * step / steps for step in range(steps))
    return [(centre[0] + radius_m * math.cos(angle), centre[1] + radius_m * math.sin(angle)) for angle in angles]
