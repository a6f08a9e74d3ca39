"""Numbers without a unit are taken, and said."""

import re

import pytest

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import assemble
from triage.drive.layout.shipped import layout_file
from triage.drive.layout.unitless import assumed_units
from triage.record.layout import Layout


def said(text: str) -> list[str]:
    return list(assumed_units(build(read_text(text, "layout.yaml"), Layout)))


@pytest.mark.parametrize("name", ["four-cylinder-full", "two-pulleys", "stretch-belt", "tape-and-photo"])
def test_with_units_nothing_is_said(name: str) -> None:
    assert said(layout_file(name).read_text("utf-8")) == []


def test_each_number_without_a_unit_is_named_beside_the_unit_taken() -> None:
    text = """\
belt: {friction: 0.3, stiffness: 170, ribs: 6}
pulleys:
  - {part: crank, diameter: 160, at: [0, -5 mm]}
  - {part: alternator, diameter: 56 mm, spring: 16, torque: 3}
engine: {cylinders: 4, idle: 750}
"""
    assert said(text) == [
        "No unit typed, taken as N: belt.stiffness 170.",
        "No unit typed, taken as mm: crank.diameter 160, crank.at 0.",
        "No unit typed, taken as N·m/rad: alternator.spring 16.",
        "No unit typed, taken as N·m: alternator.torque 3.",
        "No unit typed, taken as r/min: engine.idle 750.",
    ]


def test_no_quantity_of_a_layout_goes_unsaid() -> None:
    text = layout_file("four-cylinder-full").read_text("utf-8")
    unit = r" (mm|kg/m|kN|N·m/rad|N·m|N|deg|kg·m²|rpm)(?=[,}\]\n])"
    bare = re.sub(unit, "", text)
    sentences = " ".join(said(bare))
    assert sum(one.count(", ") for one in said(bare)) == len(re.findall(unit, text))
    assert "tensioner.pivot -126, tensioner.pivot 55" in sentences


def test_what_was_taken_stands_among_what_a_drive_takes_for_granted() -> None:
    text = "pulleys: [{part: crank, diameter: 160 mm}, {part: alternator, diameter: 56, diameter_is: pitch}]"
    drive = assemble(build(read_text(text, "layout.yaml"), Layout))
    assert "No unit typed, taken as mm: alternator.diameter 56." in drive.assumed
