"""The drawing in characters: to scale, within its size, with every pulley in it."""

import pytest

from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.geometry import Circle, route_belt, trace_belt
from triage.drive.pages.sketch import sketch

SQUARE = route_belt([Circle(0, 0, 0.05), Circle(0.4, 0, 0.05), Circle(0.4, 0.4, 0.05), Circle(0, 0.4, 0.05)])


@pytest.mark.parametrize(("columns", "rows"), [(76, 20), (40, 12), (56, 8)])
def test_a_drawing_keeps_its_size_and_names_every_pulley(reference: Drive, columns: int, rows: int) -> None:
    assert reference.route is not None
    lines = sketch(reference.route, columns, rows).splitlines()
    assert len(lines) <= rows
    assert max(len(line) for line in lines) <= columns
    assert all(number in "".join(lines) for number in "123")


def test_a_square_drive_is_drawn_square() -> None:
    lines = sketch(SQUARE).splitlines()
    where = {number: (row, line.index(number)) for row, line in enumerate(lines) for number in "1234" if number in line}
    across = where["2"][1] - where["1"][1]
    down = where["1"][0] - where["4"][0]
    assert across == pytest.approx(2 * down, abs=1)
    assert where["1"][0] == where["2"][0]
    assert where["1"][0] > where["4"][0]


def test_pulleys_on_the_back_look_different(reference: Drive) -> None:
    assert reference.route is not None
    assert "x" in sketch(reference.route)
    assert "x" not in sketch(SQUARE)


def test_every_span_has_an_arrow_the_way_the_belt_runs() -> None:
    circles = [Circle(0.0, 0.0, 0.05), Circle(0.4, 0.0, 0.05)]
    drawn = sketch(trace_belt(circles, -1)).splitlines()
    above = next(line for line in drawn if "." in line)
    # Clockwise the upper span runs to the right, the lower one back.
    assert ">" in above
    assert sum(line.count("<") for line in drawn) == 1
    assert sum(line.count(">") for line in drawn) == 1
