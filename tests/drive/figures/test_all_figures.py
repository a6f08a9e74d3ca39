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
from triage.drive.figures.drive_figures import BY_TYPE
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


TENSIONER = """\
  - part: tensioner
    at: [347.7 mm, 57.15 mm]
    diameter: 90.4 mm
    diameter_is: pitch
    side: back
    inertia: 0.000293 kg·m²
"""
ARM = ", pivot: [250.8 mm, 63.5 mm], arm_inertia: 0.001165 kg·m², stiffness: 116.4 N·m/rad"


def unknown_names(fields: dict[str, Any]) -> set[str]:
    names = {name for name, value in fields.items() if value is None and name != "rpm"}
    return names | {
        f"{name}.{case}.{pulley}"
        for name in BY_TYPE
        for case, by_type in fields[name].items()
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


def test_a_list_read_against_the_engines_turn_is_the_same_drive(reference_with: Callable[..., Drive]) -> None:
    """The engine turns one way; who listed the pulleys the other way round gets the same figures."""
    with_turn = ("engine: {", "engine: {turns: anticlockwise, ")
    here: dict[str, Any] = figures_of(reference_with(with_turn)).published()
    swapped = reference_with(with_turn, (TENSIONER, ""), ("    torque: 3 N·m\n", f"    torque: 3 N·m\n{TENSIONER}"))
    there: dict[str, Any] = figures_of(swapped).published()
    assert here["parts"] == there["parts"] == ("crank", "tensioner", "alternator")
    for name in ("spans_m", "wraps_deg", "span_hz", "span_tension_n", "natural_hz"):
        assert there[name] == pytest.approx(here[name])
    assert there["slip_margin"]["steady"]["solid"] == pytest.approx(here["slip_margin"]["steady"]["solid"])
    assert any("listed against the engine's turn" in said for said in there["assumed"])
    assert not any("engine" in said for said in here["assumed"])


def test_without_the_engines_turn_the_listed_order_runs_and_that_is_said(reference: Drive) -> None:
    fields: dict[str, Any] = figures_of(reference).published()
    assert fields["turns"] == "anticlockwise"
    assert fields["slack_span"] == ("crank", "tensioner")
    assert sum("listed order is taken as the running direction" in said for said in fields["assumed"]) == 1
    assert fields["warnings"] == ()


def test_a_tensioner_on_the_tight_side_is_warned_of(reference_with: Callable[..., Drive]) -> None:
    backwards = figures_of(reference_with(("engine: {", "engine: {turns: clockwise, "))).published()
    assert backwards["parts"] == ("crank", "alternator", "tensioner")
    assert any("tensioner stands on the tight side" in said for said in backwards["warnings"])  # type: ignore[attr-defined]


def test_a_slack_side_is_written_down_as_none(reference_with: Callable[..., Drive]) -> None:
    slack = reference_with(("torque: 3 N·m", "torque: 300 N·m"), (ARM, ""))
    fields: dict[str, Any] = figures_of(slack, slowing_rev_s2=200.0).published()
    json.dumps(fields, allow_nan=False)
    assert fields["slip_margin"]["steady"]["solid"][1] > 0
    heavy = reference_with(("inertia: 0.00293", "inertia: 3"), (ARM, ""))
    shares = figures_of(heavy).published()["grip_used"]["slowing"]["solid"]  # type: ignore[index]
    assert None in shares


def test_speeding_up_is_asked_for(reference: Drive) -> None:
    assert set(figures_of(reference, gaining_rev_s2=50.0).slip_margin) == {"steady", "slowing", "speeding"}


def test_torques_at_another_speed_than_idle_are_said_to_be_kept(reference: Drive) -> None:
    assert any("whatever the speed" in said for said in figures_of(reference, 50.0).assumed)
    assert not any("whatever the speed" in said for said in figures_of(reference).assumed)
