"""The note of every span, standing and running, from the tension that the margins use too."""

import math
from collections.abc import Callable

import pytest

from triage.drive.figures.derived import UnknownFigureError
from triage.drive.figures.notes import span_notes, tensions_of
from triage.drive.figures.running import Running
from triage.drive.layout.assembly import Drive

Change = Callable[..., Drive]


def test_standing_every_span_sounds_at_the_tension_at_rest(reference: Drive) -> None:
    # String: f = √(T/m)/(2·L), 300 N, 0.1029 kg/m over the published spans of 0.1548, 0.3449, 0.5518 m.
    assert span_notes(Running(reference, 0.0)) == pytest.approx((174.40, 78.28, 48.93), abs=0.02)


def test_running_every_span_sounds_at_the_tension_of_its_load(reference: Drive) -> None:
    running = Running(reference, 12.5)
    tensions = tensions_of(running)
    # 3 N·m at a radius of 26.97 mm lie on the span behind the alternator alone.
    assert tensions[2] - tensions[1] == pytest.approx(3 / 0.02697)
    for note_hz, tension_n, span in zip(span_notes(running), tensions, running.route.spans, strict=True):
        squared = tension_n / 0.1029
        assert note_hz == pytest.approx((squared - running.belt_m_s**2) / (2 * span.length_m * math.sqrt(squared)))


def test_without_any_torque_the_belt_sounds_as_it_does_without_load_and_that_is_said(reference_with: Change) -> None:
    bare = reference_with(("    torque: 3 N·m\n", ""))
    assert tensions_of(Running(bare, 1e-6)) == pytest.approx((300.0,) * 3)
    assert any("without load" in said for said in bare.assumed)


def test_a_span_that_runs_as_fast_as_its_waves_has_no_note_where_no_spring_adds_tension(reference_with: Change) -> None:
    fixed = reference_with(
        ("part: tensioner", "part: idler"), ("tensioner: {pulley: tensioner", "tensioner: {pulley: x")
    )
    with pytest.raises(UnknownFigureError, match="no note"):
        span_notes(Running(fixed, 100.0))
    assert min(span_notes(Running(reference_with(), 100.0))) > 0


def test_what_is_missing_is_named(reference_with: Change) -> None:
    with pytest.raises(UnknownFigureError, match="mass_per_metre"):
        span_notes(Running(reference_with(("mass_per_metre: 0.1029 kg/m, ", "")), 10.0))
