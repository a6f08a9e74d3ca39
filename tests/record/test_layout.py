"""What a layout may say, and that it reads back from a trace as it was typed."""

from pathlib import Path

import pytest

from triage.documents import build, rebuild
from triage.documents.reading import read_text
from triage.drive.layout.placement import read_layout
from triage.errors import DocumentFaulty
from triage.knowledge.shipped import trees_folder
from triage.record.layout import Layout

SHIPPED = sorted((trees_folder() / "layouts").glob("*.yaml"))


def layout_of(text: str) -> Layout:
    return build(read_text(text, "layout.yaml"), Layout)


def test_diameters_alone_are_enough() -> None:
    layout = layout_of("pulleys: [{part: crank, diameter: 160 mm}, {part: alternator, diameter: 56 mm}]")
    assert [pulley.side for pulley in layout.pulleys] == ["ribs", "ribs"]
    assert layout.tension is None
    assert layout.belt.friction is None


def test_a_bare_number_takes_the_usual_unit() -> None:
    bare = layout_of("pulleys: [{part: crank, diameter: 160, at: [-5, 0]}]")
    assert bare.pulleys[0].diameter == "160"
    assert bare.pulleys[0].at == ("-5", "0")


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_a_layout_reads_back_from_a_trace_as_it_was(file: Path) -> None:
    layout = read_layout(file)
    assert rebuild(Layout, layout.model_dump(mode="json")) == layout


def test_at_least_three_layouts_ship_and_each_says_that_it_is_invented() -> None:
    assert len(SHIPPED) >= 3
    assert all(read_layout(file).about.startswith("Invented for the demo") for file in SHIPPED)


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("tension: 300 kg/m\npulleys: []", "layout.yaml:1:10", "not of a force"),
        ("pulleys:\n  - {part: crank, diameter: 0 mm}", "layout.yaml:2:29", "more than zero"),
        ("pulleys:\n  - {part: crank, diameter: 90 mm, side: top}", "layout.yaml:2:42", "'ribs' or 'back'"),
        ("pulleys:\n  - {part: crank, diametre: 90 mm}", "layout.yaml:2:19", "diameter"),
        ("pulleys:\n  - {part: crank}", "layout.yaml:2:5", "lacks the key 'diameter'"),
        ("pulleys:\n  - {part: crank, diameter: true}", "layout.yaml:2:29", "text"),
    ],
)
def test_what_does_not_fit_is_named_with_its_place(text: str, place: str, said: str) -> None:
    with pytest.raises(DocumentFaulty) as caught:
        layout_of(text)
    assert any(str(fault.place) == place and said in str(fault) for fault in caught.value.faults), str(caught.value)
