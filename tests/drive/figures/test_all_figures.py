"""The whole answer: every figure known or unknown with its reason."""

import json
import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.figures.all_figures import figures_of
from triage.drive.layout.assembly import Drive, assemble
from triage.knowledge.models import PULLEY_TYPES
from triage.record.layout import Layout
from triage.units import KINDS
from triage.units.bounds import BOUNDS

NAMES = {
    "spans_m",
    "wraps_deg",
    "belt_length_m",
    "ratios",
    "turns_per_s",
    "lap_per_s",
    "belt_speed_m_s",
    "firing_hz",
    "span_hz",
    "slip_margin",
    "reversal_rpm_per_s",
    "natural_hz",
    "isolation",
}


def unknown_names(fields: dict[str, Any]) -> set[str]:
    names = {name for name, value in fields.items() if value is None and name != "rpm"}
    margins = fields["slip_margin"]
    assert isinstance(margins, dict)
    return names | {
        f"slip_margin.{case}.{pulley}"
        for case, by_type in margins.items()
        for pulley, values in by_type.items()
        if values is None
    }


def test_all_published_names_are_there_and_what_is_unknown_has_its_reason(reference: Drive) -> None:
    fields: dict[str, Any] = figures_of(reference).published()
    assert set(fields) >= NAMES
    assert unknown_names(fields) == set(fields["reasons"])
    assert set(fields["slip_margin"]) == {"steady", "slowing"}
    assert all(tuple(by_type) == PULLEY_TYPES for by_type in fields["slip_margin"].values())
    json.dumps(fields, allow_nan=False)


def test_diameters_alone_give_ratios_and_reasons_for_all_else() -> None:
    text = "pulleys: [{part: crank, diameter: 160 mm}, {part: alternator, diameter: 56 mm}]"
    fields: dict[str, Any] = figures_of(assemble(build(read_text(text, "tape.yaml"), Layout))).published()
    assert fields["ratios"] == pytest.approx((1, 164 / 60))
    assert unknown_names(fields) == set(fields["reasons"])
    assert all(reason.endswith(".") for reason in fields["reasons"].values())
    assert len(fields["assumed"]) == 2
    # Each pitch diameter is ± √(4² + 1²) mm: u/i = √((4.12/164)² + (4.12/60)²)/√3.
    assert fields["uncertainty"]["ratios"] == pytest.approx((0, 164 / 60 * 0.04224), rel=0.01)


def test_tension_is_shared_among_the_ribs(reference: Drive) -> None:
    assert figures_of(reference).rib_tension_n.value == pytest.approx(50)


@given(st.data())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_figures_give_an_answer_that_can_be_written_down(data: st.DataObject) -> None:
    """Figures from the least to the most that are taken: known, or unknown with a reason, no crash or infinity."""

    def figure(kind: str) -> str:
        least, most = (math.log10(bound.si) for bound in BOUNDS[kind])
        return f"{10 ** data.draw(st.floats(least, most)):.3e} {KINDS[kind].si}"

    text = f"""
belt: {{mass_per_metre: "{figure("mass-per-length")}", stiffness: "{figure("force")}", friction: 0.3}}
tension: "{figure("force")}"
groove_angle: 40 deg
pulleys:
  - {{part: crank, at: [0, 0], diameter: 160, inertia: "{figure("inertia")}"}}
  - {{part: alternator, at: [300, 0], diameter: 60, rim_inertia: "{figure("inertia")}",
     rotor_inertia: "{figure("inertia")}", spring: "{figure("torsional-stiffness")}",
     torque: "{figure("torque")}", overrun_drag: "{figure("torque")}"}}
engine: {{cylinders: 4, idle: "{figure("speed")}"}}
"""
    fields: dict[str, Any] = figures_of(assemble(build(read_text(text, "wild.yaml"), Layout))).published()
    json.dumps(fields, allow_nan=False)
    assert unknown_names(fields) == set(fields["reasons"])


def test_idle_is_taken_where_no_speed_is_asked_for(reference: Drive) -> None:
    assert figures_of(reference).rpm == pytest.approx(750)
    assert figures_of(reference, 50.0).rpm == pytest.approx(3000)
    assert figures_of(reference, 0.0).span_hz.value == pytest.approx((174.40, 78.28, 48.93), abs=0.02)


def test_lists_are_in_pulley_order_and_unsigned(reference: Drive) -> None:
    figures = figures_of(reference)
    assert figures.parts == ("crank", "tensioner", "alternator")
    assert figures.spans_m.value == pytest.approx((0.1548, 0.3449, 0.5518), abs=5e-5)
    assert figures.turns_per_s.value is not None
    assert all(turns > 0 for turns in figures.turns_per_s.value)


def test_turning_the_drive_round_changes_no_figure(reference_with: Callable[..., Drive]) -> None:
    mirrored = reference_with(
        ("[552.5 mm", "[-552.5 mm"), ("at: [347.7 mm", "at: [-347.7 mm"), ("pivot: [250.8 mm", "pivot: [-250.8 mm")
    )
    there: dict[str, Any] = figures_of(mirrored).published()
    here: dict[str, Any] = figures_of(reference_with()).published()
    for name in ("spans_m", "wraps_deg", "natural_hz", "span_hz"):
        assert there[name] == pytest.approx(here[name])
    for case in ("steady", "slowing"):
        assert there["slip_margin"][case]["solid"] == pytest.approx(here["slip_margin"][case]["solid"])
