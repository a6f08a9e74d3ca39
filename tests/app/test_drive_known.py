"""What a layout comes to, as it is recorded."""

import math
from pathlib import Path

import pytest

from triage.app.drive_known import known_of, rate_uncertainty_hz
from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file
from triage.units import parse_quantity


def test_a_pulley_without_torque_is_never_the_weakest(tmp_path: Path) -> None:
    text = layout_file("four-cylinder-full").read_text("utf-8")
    file = tmp_path / "heavy-tensioner.yaml"
    # So heavy that the tensioner's pulley uses most of its grip, though it takes no torque.
    heavy = text.replace("inertia: 0.00025", "inertia: 0.02")
    assert heavy != text
    file.write_text(heavy, "utf-8")
    layout = read_layout(file)
    figures = figures_of(assemble(layout))
    shares = figures.grip_used["slowing"]["solid"].value
    assert shares is not None
    assert figures.parts[shares.index(max(shares))] == "tensioner"
    assert known_of(layout).slowing["solid"].part != "tensioner"


def test_the_uncertainty_of_a_rate_carries_that_of_the_speed_along() -> None:
    counted, speed = parse_quantity("10 ± 0.3 Hz", "frequency"), parse_quantity("600 ± 6 rpm", "speed")
    alone = 0.3 / math.sqrt(3)
    assert rate_uncertainty_hz(counted, None) == pytest.approx(alone)
    assert rate_uncertainty_hz(counted, speed) == pytest.approx(math.hypot(alone, 10 * 0.01 / math.sqrt(3)))
