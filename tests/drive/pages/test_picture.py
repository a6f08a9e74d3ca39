"""The picture: sound SVG, to scale, its arcs lying on their pulleys."""

import math
import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

import pytest

from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.geometry import BeltPath, Circle, route_belt, trace_belt
from triage.drive.pages.picture import picture

SVG = "{http://www.w3.org/2000/svg}"
BACK_HEAVY = route_belt(
    [Circle(0, 0, 0.06), Circle(0.2, 0.16, 0.04, on_back=True), Circle(0.4, 0.0, 0.05), Circle(0.2, 0.4, 0.07)]
)


def drawn(route: BeltPath) -> ET.Element:
    return ET.fromstring(picture(route, [f"p{i}" for i in range(len(route.circles))], "A drive"))  # noqa: S314


def arcs(path: str) -> Iterator[tuple[tuple[float, ...], tuple[float, ...], float, int, int]]:
    """Yield start, end, radius and both flags of every arc of a path."""
    place: tuple[float, ...] = ()
    for letter, figures in re.findall(r"([MLA])([^MLAZ]*)", path):
        numbers = [float(word) for word in figures.split()]
        if letter == "A":
            yield place, tuple(numbers[-2:]), numbers[0], int(numbers[3]), int(numbers[4])
        place = tuple(numbers[-2:])


def centre_of(arc: tuple[tuple[float, ...], tuple[float, ...], float, int, int]) -> tuple[float, float]:
    """Where SVG 1.1, F.6.5, puts the centre of an arc."""
    (x1, y1), (x2, y2), radius, large, sweep = arc
    half = math.dist((x1, y1), (x2, y2)) / 2
    away = math.sqrt(max(radius**2 - half**2, 0.0)) * (-1 if large == sweep else 1)
    across, down = (x2 - x1) / (2 * half), (y2 - y1) / (2 * half)
    return (x1 + x2) / 2 - away * down, (y1 + y2) / 2 + away * across


@pytest.mark.parametrize("which", ["reference", "back"])
def test_every_arc_of_the_belt_lies_on_its_pulley(reference: Drive, which: str) -> None:
    route = reference.route if which == "reference" else BACK_HEAVY
    assert route is not None
    image = drawn(route)
    circles = [(float(c.get("cx", 0)), float(c.get("cy", 0))) for c in image.iter(f"{SVG}circle")]
    path = next(image.iter(f"{SVG}path")).get("d", "")
    found = [centre_of(arc) for arc in arcs(path)]
    assert len(found) == len(circles)
    for centre, circle in zip(found, [*circles[1:], circles[0]], strict=True):
        assert math.dist(centre, circle) < 3


def test_a_picture_has_a_role_a_title_and_its_parts_and_asks_for_nothing_outside(reference: Drive) -> None:
    assert reference.route is not None
    text = picture(reference.route, ["crank", "tensioner", "alternator"], "Belt over all")
    image = ET.fromstring(text)  # noqa: S314
    assert image.get("role") == "img"
    assert image.findtext(f"{SVG}title") == "Belt over all"
    assert [label.text for label in image.iter(f"{SVG}text")] == ["crank", "tensioner", "alternator"]
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")


def test_markup_in_names_is_shown_as_text() -> None:
    image = ET.fromstring(picture(BACK_HEAVY, ["<b>", "&", '"', "d"], "<script>"))  # noqa: S314
    assert image.findtext(f"{SVG}title") == "<script>"
    assert next(image.iter(f"{SVG}text")).text == "<b>"


def test_the_picture_is_to_scale(reference: Drive) -> None:
    assert reference.route is not None
    radii = [float(circle.get("r", 0)) for circle in drawn(reference.route).iter(f"{SVG}circle")]
    assert radii == pytest.approx([88.9, 45.2, 27.0], abs=0.05)


def test_every_span_has_an_arrow_the_way_the_belt_runs() -> None:
    drawn = picture(trace_belt([Circle(0.0, 0.0, 0.05), Circle(0.4, 0.0, 0.05)], -1), ["a", "b"], "two")
    assert drawn.count('class="way"') == 2
    # Clockwise the upper span runs to the right, the lower one back.
    assert "rotate(-0.0)" in drawn
    assert "rotate(-180.0)" in drawn or "rotate(180.0)" in drawn
