import re
import xml.etree.ElementTree as ET
from typing import TYPE_CHECKING

from triage.knowledge.drawn.picture import picture
from triage.knowledge.loading import load_knowledge

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

SVG = "{http://www.w3.org/2000/svg}"


def drawn(world: "SmallWorld") -> ET.Element:
    knowledge = load_knowledge(world.folder)
    return ET.fromstring(picture(knowledge, knowledge.trees["whine-driving"]))  # noqa: S314 - our own text


def test_a_picture_has_a_title_and_a_box_for_each_node(world: "SmallWorld") -> None:
    root = drawn(world)
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == "Whine while driving: which check comes next"
    assert len(root.findall(f"{SVG}rect[@rx]")) == 10
    titles = [text.text for text in root.findall(f"{SVG}text[@class='title']")]
    assert {"Belt condition", "Cause: Torn belt", "End: undecided"} <= set(titles)


def test_boxes_lie_inside_the_picture_and_never_on_one_another(world: "SmallWorld") -> None:
    root = drawn(world)
    boxes = [
        tuple(float(rect.get(key, "")) for key in ("x", "y", "width", "height"))
        for rect in root.iter(f"{SVG}rect")
        if rect.get("rx")
    ]
    width, height = float(root.get("width", "")), float(root.get("height", ""))
    for x, y, wide, high in boxes:
        assert 0 <= x <= x + wide <= width
        assert 0 <= y <= y + high <= height
    for number, (x, y, wide, high) in enumerate(boxes):
        for other_x, other_y, other_wide, other_high in boxes[number + 1 :]:
            apart_across = x + wide <= other_x or other_x + other_wide <= x
            assert apart_across or y + high <= other_y or other_y + other_high <= y


def test_lines_only_lead_to_the_right(world: "SmallWorld") -> None:
    for path in drawn(world).iter(f"{SVG}path"):
        across = [float(x) for x in re.findall(r"[MCH ](-?[0-9.]+)(?=,|$)", path.get("d", ""))]
        assert across == sorted(across)


def test_text_that_looks_like_markup_stays_text(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "name: Whine while driving", "name: '<script>&'")
    world.change("causes.yaml", "name: Torn belt", "name: '<b>&torn'")
    root = drawn(world)
    assert root.findtext(f"{SVG}title") == "<script>&: which check comes next"
    assert "Cause: <b>&torn" in [text.text for text in root.iter(f"{SVG}text")]
