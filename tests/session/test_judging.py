"""From typed parts to a judged reading."""

import math
from dataclasses import replace
from typing import Any

import pytest

from triage.errors import CommandRefused, QuantityRefused
from triage.knowledge.models import Check, Figure, Knowledge, Part, Reading, Refused, Zone
from triage.record.payloads import MakerFigure
from triage.record.readings import AccuracyUsed, MeasuredOnce, TypedPart, Verdict
from triage.session import judging
from triage.session.judging import limits_of
from triage.session.state import Finding, State

FOUR_PERCENT = State(accuracies={"small-wrench": AccuracyUsed(relative=0.04, absolute=0.0, source="shop-file")})


@pytest.fixture
def overrun(small: Knowledge) -> Check:
    return small.checks["overrun-torque"]


@pytest.fixture
def span_tension(small: Knowledge) -> Check:
    """A check that is worked out from three parts: the tension of a span from the note it gives."""
    formula = "span-tension"
    reading = Reading(
        kind="force",
        parts=(
            Part(id="note", kind="frequency", ask="Note"),
            Part(id="mass", kind="mass-per-length", ask="Mass"),
            Part(id="span", kind="length", ask="Span"),
        ),
        formula=formula,
        instrument="ear",
        zones=(Zone(outcome="smooth", below=Figure(text="300 N", source="made-up")), Zone(outcome="rough")),
    )
    return small.checks["idler-spin"].model_copy(update={"reading": reading})


def judged(check: Check, state: State, parts: tuple[TypedPart, ...]) -> tuple[Verdict, str]:
    found = judging.judged(check, state, parts)
    return found.verdict, found.outcome


def before(check: Check, *verdicts: Verdict) -> dict[str, tuple[Finding, ...]]:
    """Readings that did not decide, each by itself."""
    return {
        check.id: tuple(
            Finding(
                check.id,
                (),
                0,
                "Kim",
                said=f"{one.value}",
                by_itself=MeasuredOnce(value=one.value, uncertainty=one.uncertainty),
            )
            for one in verdicts
        )
    }


def typed(value: float, spread: float = 0.0) -> tuple[TypedPart, ...]:
    return (TypedPart(part="torque", value=value, spread=spread, text=f"{value} N·m"),)


@pytest.mark.parametrize(("value", "outcome"), [(0.5, "free"), (1.25, "borderline"), (4.0, "stiff"), (0.0, "free")])
def test_a_clear_reading_has_the_outcome_of_its_zone(overrun: Check, value: float, outcome: str) -> None:
    verdict, found = judged(overrun, FOUR_PERCENT, typed(value))
    assert (found, verdict.settled) == (outcome, True)
    assert sum(verdict.probabilities) == pytest.approx(1.0)


def test_the_uncertainty_is_the_instruments_and_the_typed_spread_together(overrun: Check) -> None:
    """Half-widths of rectangles in quadrature, by 1/√3 (JCGM 100:2008, 4.3.7)."""
    verdict, _ = judged(overrun, FOUR_PERCENT, typed(1.25, 0.03))
    assert verdict.uncertainty == pytest.approx(math.hypot(0.04 * 1.25, 0.03) / math.sqrt(3))


def test_an_unknown_instrument_adds_nothing(overrun: Check) -> None:
    verdict, found = judged(overrun, State(), typed(1.001))
    assert (verdict.uncertainty, found) == (0.0, "borderline")


def test_the_margin_is_to_the_nearest_limit_and_names_whose_it_is(overrun: Check) -> None:
    verdict, _ = judged(overrun, FOUR_PERCENT, typed(1.4))
    assert (verdict.limit, verdict.limit_source) == (1.5, "trade-practice")
    assert verdict.margin == pytest.approx(-0.1)


def test_too_close_to_call_has_no_outcome_the_first_time(overrun: Check) -> None:
    verdict, found = judged(overrun, FOUR_PERCENT, typed(1.01))
    assert (found, verdict.settled) == ("", False)


def test_the_mean_of_two_measurements_decides_and_still_says_that_it_was_close(overrun: Check) -> None:
    first, _ = judged(overrun, FOUR_PERCENT, typed(1.01))
    state = replace(FOUR_PERCENT, first_readings=before(overrun, first))
    second, found = judged(overrun, state, typed(0.97))
    # 4 % of each: weights by 1/u² are as 0.97² to 1.01².
    assert second.value == pytest.approx((1.01 * 0.97**2 + 0.97 * 1.01**2) / (0.97**2 + 1.01**2))
    assert (found, second.settled) == ("free", False)


def test_what_one_instrument_is_wrong_by_does_not_get_less_by_measuring_again(overrun: Check) -> None:
    """Wholly correlated: the uncertainty of the mean is Σ w·u, here of two equal ones (JCGM 100:2008, 5.2.2)."""
    first, _ = judged(overrun, FOUR_PERCENT, typed(1.01))
    second, _ = judged(overrun, replace(FOUR_PERCENT, first_readings=before(overrun, first)), typed(1.01))
    assert second.uncertainty == pytest.approx(first.uncertainty)


def test_a_mistyped_first_reading_cannot_drag_the_second_along(overrun: Check) -> None:
    """A reading with hundred times the uncertainty weighs a ten-thousandth."""
    rough = judging.judged(overrun, State(), typed(1.4, 5.0)).verdict
    second, found = judged(overrun, replace(FOUR_PERCENT, first_readings=before(overrun, rough)), typed(0.5))
    assert second.value == pytest.approx(0.5, abs=1e-3)
    assert found == "free"


def test_readings_that_do_not_agree_ask_for_a_third_and_two_of_three_then_count(overrun: Check) -> None:
    first, _ = judged(overrun, FOUR_PERCENT, typed(1.01))
    state = replace(FOUR_PERCENT, first_readings=before(overrun, first))
    apart = judging.judged(overrun, state, typed(1.45))
    assert (apart.outcome, apart.weighed, apart.apart) == ("", (), ("1.01", "1.45 N·m"))
    state = replace(FOUR_PERCENT, first_readings=before(overrun, first, apart.verdict))
    third = judging.judged(overrun, state, typed(1.44))
    assert (third.outcome, third.weighed, third.apart) == ("borderline", ("1.45", "1.44 N·m"), ("1.01",))
    none = judging.judged(overrun, state, typed(4.0))
    assert (none.outcome, len(none.apart)) == ("", 3)


def test_the_makers_figure_wins_over_the_default(overrun: Check) -> None:
    state = replace(
        FOUR_PERCENT,
        maker={"overrun-free": MakerFigure(figure="overrun-free", value=1.3, text="1.3 N·m", reference="sheet 12")},
    )
    assert overrun.reading
    assert [(limit.value, limit.source) for limit in limits_of(overrun.reading, state)] == [
        (1.3, "maker: sheet 12"),
        (1.5, "trade-practice"),
    ]
    assert judged(overrun, state, typed(1.1))[1] == "free"


def test_several_parts_go_through_their_formula(span_tension: Check) -> None:
    """T = 4·m·L²·f², the string's fundamental: 4 × 0.1 kg/m × (0.25 m)² × (100 Hz)² = 250 N."""
    parts = (
        TypedPart(part="note", value=100.0, spread=0.0, text=""),
        TypedPart(part="mass", value=0.1, spread=0.0, text=""),
        TypedPart(part="span", value=0.25, spread=0.0, text=""),
    )
    verdict, found = judged(span_tension, State(), parts)
    assert found == "smooth"
    assert verdict.value == pytest.approx(250.0)


def test_a_formula_refuses_what_makes_no_sense(span_tension: Check) -> None:
    parts = (
        TypedPart(part="note", value=-100.0, spread=0.0, text=""),
        TypedPart(part="mass", value=0.1, spread=0.0, text=""),
        TypedPart(part="span", value=0.25, spread=0.0, text=""),
    )
    with pytest.raises(QuantityRefused):
        judged(span_tension, State(), parts)


def test_parts_come_in_the_order_of_the_reading(span_tension: Check) -> None:
    parts: Any = (
        TypedPart(part="span", value=0.25, spread=0.0, text=""),
        TypedPart(part="note", value=100.0, spread=0.0, text=""),
        TypedPart(part="mass", value=0.1, spread=0.0, text=""),
    )
    with pytest.raises(CommandRefused, match="It needs: Note, Mass, Span"):
        judged(span_tension, State(), parts)


def test_figures_are_kept_to_nine_places(overrun: Check) -> None:
    verdict, _ = judged(overrun, FOUR_PERCENT, typed(1 / 3))
    assert verdict.value == 0.333333333


def test_a_formula_that_is_not_known_is_refused_with_a_sentence(span_tension: Check) -> None:
    assert span_tension.reading
    parts = (
        TypedPart(part="note", value=60.0, spread=0.0, text=""),
        TypedPart(part="mass", value=0.1, spread=0.0, text=""),
        TypedPart(part="span", value=0.3, spread=0.0, text=""),
    )
    for formula in ("span-tensoin", "belt-slip"):
        reading = span_tension.reading.model_copy(update={"formula": formula})
        with pytest.raises(CommandRefused, match=f"no formula '{formula}' for such a reading"):
            judged(span_tension.model_copy(update={"reading": reading}), State(), parts)


@pytest.fixture
def tension(shipped: Knowledge) -> Check:
    return shipped.checks["span-tension"]


def by_note(note_hz: float = 71.0, **sources: str) -> tuple[TypedPart, ...]:
    given = {"note": note_hz, "span": 0.34, "mass": 0.105, "ribs": 6.0}
    return tuple(
        TypedPart(part=part, value=value, spread=0.0, text="", source=sources.get(part, ""))
        for part, value in given.items()
    )


def test_a_note_and_a_force_lead_to_the_same_quantity_and_zones(tension: Check) -> None:
    """T/z = 4·m·L²·f²/z: 4 × 0.105 kg/m × (0.34 m × 71 Hz)² / 6 = 40.8 N, references.md, span tension."""
    verdict, found = judged(tension, State(), by_note())
    assert found == "low"
    assert verdict.value == pytest.approx(4 * 0.105 * (0.34 * 71) ** 2 / 6)
    again, _ = judged(tension, State(), (TypedPart(part="force", value=verdict.value, spread=0.0, text=""),))
    assert (again.value, again.limit) == (verdict.value, verdict.limit)


def test_each_part_of_a_note_has_the_uncertainty_of_its_own_instrument(tension: Check) -> None:
    """u/T = √((2·u_f/f)² + (2·u_L/L)²): neither the mass on a sheet nor the counted ribs were measured."""
    used = {
        "frequency-counter": AccuracyUsed(relative=0.01, absolute=0.0, source="shop-file"),
        "ruler": AccuracyUsed(relative=0.0, absolute=0.001, source="shop-file"),
        "force-gauge": AccuracyUsed(relative=0.5, absolute=0.0, source="shop-file"),
    }
    verdict, _ = judged(tension, State(accuracies=used), by_note())
    share = math.hypot(2 * 0.01, 2 * 0.001 / 0.34) / math.sqrt(3)
    assert verdict.uncertainty / verdict.value == pytest.approx(share, rel=1e-4)
    taken, _ = judged(tension, State(accuracies=used), by_note(span="layout bay-three"))
    assert taken.uncertainty / taken.value == pytest.approx(0.02 / math.sqrt(3), rel=1e-4)


def test_a_way_that_is_not_whole_is_refused_with_every_way(tension: Check) -> None:
    with pytest.raises(CommandRefused, match="Force for each rib; or Note of the plucked span, Length"):
        judged(tension, State(), by_note()[:2])


def test_the_makers_limit_and_a_second_measurement_count_for_either_way(tension: Check) -> None:
    state = State(
        maker={
            "rib-tension-limit": MakerFigure(figure="rib-tension-limit", value=30.0, text="30 N", reference="sheet 2")
        }
    )
    assert judged(tension, state, by_note())[1] == "adequate"
    unsure = State(accuracies={"frequency-counter": AccuracyUsed(relative=0.1, absolute=0.0, source="shop-file")})
    first, found = judged(tension, unsure, by_note(90.0))
    assert found == ""
    state = replace(unsure, first_readings=before(tension, first))
    second, found = judged(tension, state, (TypedPart(part="force", value=60.0, spread=0.0, text="60 N"),))
    assert found == "low"
    assert second.value == pytest.approx((first.value + 60.0) / 2, rel=1e-8)


def swinging(check: Check, below_zero: Any) -> Check:
    """The same check of a voltage that may lie below zero, with a limit at 0.2 V."""
    zones = (Zone(outcome="free", below=Figure(text="0.2 V", source="made-up")), Zone(outcome="stiff"))
    parts = (Part(id="torque", kind="voltage", ask="Voltage"),)
    reading = Reading(kind="voltage", parts=parts, instrument="meter", zones=zones, below_zero=below_zero)
    return check.model_copy(update={"reading": reading})


def test_below_zero_nothing_said_means_the_lowest_zone(overrun: Check) -> None:
    assert judged(swinging(overrun, None), State(), typed(-0.9))[1] == "free"


def test_either_side_of_zero_counts_alike_and_a_second_measurement_does_not_cancel_the_first(overrun: Check) -> None:
    check = swinging(overrun, "either-side")
    verdict, found = judged(check, State(), typed(-0.9))
    assert (verdict.value, found) == (0.9, "stiff")
    first, _ = judged(check, State(), typed(-0.3, 0.3))
    state = State(first_readings=before(check, first))
    assert judged(check, state, typed(0.3))[0].value == pytest.approx(0.3)


def test_below_zero_is_refused_with_the_reason_and_what_to_do(overrun: Check) -> None:
    check = swinging(overrun, Refused(why="The leads are swapped.", instead="Swap them."))
    with pytest.raises(CommandRefused) as refused:
        judged(check, State(), typed(-14.0))
    assert (refused.value.message, refused.value.hint) == ("−14 V: The leads are swapped.", "Swap them.")
    assert judged(check, State(), typed(0.0))[1] == "free"


def test_what_is_allowed_below_zero_is_judged(overrun: Check) -> None:
    allowed = Figure(text="0.5 V", source="made-up")
    check = swinging(overrun, Refused(why="Not so far.", instead="Again.", allowed=allowed))
    assert judged(check, State(), typed(-0.4))[1] == "free"
    with pytest.raises(CommandRefused, match="Not so far"):
        judged(check, State(), typed(-0.6))
