"""The bay's arithmetic as one list."""

import math

import pytest

from triage.drive.bay.formulas import FORMULAS, evaluate
from triage.errors import QuantityRefused
from triage.units import KINDS

POUND_INCH_NM, INCH_M = 0.112984829, 0.0254

SENSIBLE = {
    "torque": 20.0,
    "length": 0.3,
    "position": 0.002,
    "angle": 0.2,
    "speed": 20.0,
    "time": 10.0,
    "frequency": 80.0,
    "mass-per-length": 0.1,
    "force": 400.0,
    "number": 8.0,
    "voltage": 14.0,
    "current": 80.0,
    "inertia": 0.003,
}


def sensible(formula_id: str) -> list[float]:
    values = [SENSIBLE[part.kind] for part in FORMULAS[formula_id].parts]
    if formula_id.startswith("bearing"):
        values[values.index(0.3)] = 0.02
    if formula_id == "alternator-torque":
        values[-1] = 0.6
    if formula_id == "grip-used":
        values[1] = 200.0
    return values


@pytest.mark.parametrize("formula_id", FORMULAS)
def test_every_formula_is_whole(formula_id: str) -> None:
    formula = FORMULAS[formula_id]
    assert formula.id == formula_id
    assert {part.kind for part in formula.parts} | {formula.result_kind} <= set(KINDS)
    assert formula.limits.endswith(".")
    assert all(part.symbol in formula.text for part in formula.parts)
    left_out = [part.usual is not None for part in formula.parts]
    assert left_out == sorted(left_out), "a part that may be left out stands last"


@pytest.mark.parametrize("formula_id", FORMULAS)
def test_every_formula_has_a_result_and_carries_uncertainty(formula_id: str) -> None:
    values = sensible(formula_id)
    value, none = evaluate(formula_id, values, [0.0] * len(values))
    _, some = evaluate(formula_id, values, [0.01 * figure for figure in values])
    assert math.isfinite(value)
    assert none == 0
    assert some > 0


@pytest.mark.parametrize("formula_id", FORMULAS)
def test_propagated_uncertainty_agrees_with_a_simulation_to_first_order(formula_id: str) -> None:
    """Each part moved by a small step on its own, the differences added in squares: JCGM 100, 5.1.3 note 2."""
    values = sensible(formula_id)
    uncertainties = [1e-4 * figure for figure in values]
    squares = 0.0
    for position, uncertainty in enumerate(uncertainties):
        ends = []
        for sign in (1, -1):
            moved = [*values]
            moved[position] += sign * uncertainty
            ends.append(evaluate(formula_id, moved, [0.0] * len(values))[0])
        squares += ((ends[0] - ends[1]) / 2) ** 2
    assert evaluate(formula_id, values, uncertainties)[1] == pytest.approx(math.sqrt(squares), rel=1e-4)


def test_the_adapter_of_the_navy_manual_with_its_uncertainty() -> None:
    # US Navy NAVEDTRA 14315, fig. 3-44/45, seen: 66.7 lbf·in; a 4 % torque alone makes the setting 4 % uncertain.
    values = [100 * POUND_INCH_NM, 12 * INCH_M, 6 * INCH_M, 0.0]
    setting, uncertainty = evaluate("adapter-setting", values, [0.04 * values[0], 0.0, 0.0, 0.0])
    assert setting / POUND_INCH_NM == pytest.approx(66.667, abs=5e-4)
    assert uncertainty / setting == pytest.approx(0.04)


def test_a_running_span_is_judged_with_the_belts_own_speed() -> None:
    note_hz, _ = evaluate("running-span-note", [300.0, 0.1029, 0.3449, 12.5, 0.1778], [0.0] * 5)
    assert note_hz == pytest.approx(76.97, abs=0.01)
    tension_n, _ = evaluate("running-span-tension", [note_hz, 0.1029, 0.3449, 12.5, 0.1778], [0.0] * 5)
    assert tension_n == pytest.approx(300.0)


def test_values_without_sense_are_refused() -> None:
    with pytest.raises(QuantityRefused, match="free span must be more than zero"):
        evaluate("entry-angle", [0.002, 0.0], [0.0, 0.0])
    with pytest.raises(QuantityRefused, match="as far as the hand"):
        evaluate("adapter-setting", [50.0, 0.3, 0.4, math.pi], [0.0] * 4)
    with pytest.raises(QuantityRefused, match="no note"):
        evaluate("running-span-note", [100.0, 0.1, 0.3, 100.0, 0.16], [0.0] * 5)
