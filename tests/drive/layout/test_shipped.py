"""The layouts that came with the program are drives that could be."""

from pathlib import Path

import pytest

from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import shipped_layouts

SHIPPED = shipped_layouts()


@pytest.mark.parametrize("file", SHIPPED.values(), ids=SHIPPED)
def test_a_shipped_layout_is_a_possible_drive(file: Path) -> None:
    drive = assemble(read_layout(file))
    figures = figures_of(drive)
    assert figures.warnings == ()
    assert not any("engine.turns" in said or "listed against" in said for said in figures.assumed)
    tensioner = figures.tensioner.value
    assert tensioner is None or (tensioner.authority > 0.15 and 10 < tensioner.windup_deg < 90)
    for by_type in figures.grip_used.values():
        assert all(max(shares.value or (0.0,)) < 1 for shares in by_type.values())
