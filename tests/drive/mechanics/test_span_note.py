"""Tension from a note, and back."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.drive.bay.formulas import FORMULAS
from triage.drive.mechanics.span_note import span_note

SPAN_TENSION, RIB_TENSION, RIB_TENSION_FROM_NOTE = (
    FORMULAS[name].function for name in ("span-tension", "rib-tension", "rib-tension-from-note")
)


def running_span_tension(note_hz: float, mass_kg_m: float, span_m: float, belt_m_s: float) -> float:
    """By the bay's formula, which takes the belt's speed from the crank's and its pulley."""
    return FORMULAS["running-span-tension"].function(note_hz, mass_kg_m, span_m, belt_m_s / math.pi, 1.0)


@given(st.floats(50, 2000), st.floats(0.02, 0.3), st.floats(0.05, 1.0), st.floats(0, 20))
@settings(deadline=None)
def test_a_note_made_from_a_tension_gives_the_tension_back(
    tension_n: float, mass_kg_m: float, span_m: float, belt_m_s: float
) -> None:
    wave_m_s = (tension_n / mass_kg_m) ** 0.5
    belt_m_s = min(belt_m_s, 0.9 * wave_m_s)
    note_hz = span_note(tension_n, mass_kg_m, span_m, belt_m_s)
    assert running_span_tension(note_hz, mass_kg_m, span_m, belt_m_s) == pytest.approx(tension_n, rel=1e-9)


def test_a_standing_span_is_a_string() -> None:
    # String of the reference notes: T = 4·m·L²·f².
    assert SPAN_TENSION(span_note(300.0, 0.1029, 0.3449, 0.0), 0.1029, 0.3449) == pytest.approx(300.0)
    assert running_span_tension(80.0, 0.1029, 0.3449, 0.0) == pytest.approx(SPAN_TENSION(80.0, 0.1029, 0.3449))


def test_one_rib_has_its_share_of_what_the_note_says() -> None:
    # The reference drive's 300 N at its longest free span but one, shared by six ribs.
    note_hz = span_note(300.0, 0.1029, 0.3449, 0.0)
    assert RIB_TENSION_FROM_NOTE(note_hz, 0.3449, 0.1029, 6) == pytest.approx(50.0)


def test_a_running_span_sounds_lower_than_a_standing_one() -> None:
    assert span_note(300.0, 0.1029, 0.3449, 20.0) < span_note(300.0, 0.1029, 0.3449, 0.0)


def test_a_span_that_runs_as_fast_as_its_waves_has_no_note() -> None:
    with pytest.raises(ValueError, match="no note"):
        span_note(100.0, 0.1, 0.3, 32.0)


def test_the_durability_test_tension_lies_within_the_typical_range_per_rib() -> None:
    # SAE J2432-2021, seen: 629 ± 31 N on six ribs; typical 65 to 130 N per rib is common practice.
    assert RIB_TENSION(629.0, 6) == pytest.approx(104.83, abs=5e-3)
    assert 65 < RIB_TENSION(629.0 - 31, 6) < RIB_TENSION(629.0 + 31, 6) < 130
