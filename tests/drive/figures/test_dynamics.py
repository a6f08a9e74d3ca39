"""Natural frequencies, reversal and isolation of a whole drive."""

import math
from collections.abc import Callable

import pytest

from triage.drive.figures.derived import UnknownFigureError
from triage.drive.figures.dynamics import (
    fitted_frequencies_of,
    frequencies_of,
    isolation_of,
    meeting_speeds_of,
    reversal_of,
    unloaded_reversal_of,
)
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file

Change = Callable[..., Drive]

SPRING = ("inertia: 0.00293 kg·m²", "rim_inertia: 0.0003 kg·m²\n    rotor_inertia: 0.003 kg·m²\n    spring: 15 N·m/rad")


def test_the_reference_layout_rings_at_its_frequencies(reference: Drive) -> None:
    # Computed in the reference notes from Beikmann, Perkins & Ulsoy 1996, to 0.1 %.
    assert frequencies_of(reference, crank_held=False) == pytest.approx((0, 52.103, 172.131, 608.191), rel=1e-3)
    assert frequencies_of(reference, crank_held=True) == pytest.approx((43.803, 170.319, 606.159), rel=1e-3)


def test_rim_and_rotor_count_together_because_every_pulley_is_taken_as_solid(reference_with: Change) -> None:
    split = reference_with(("inertia: 0.00293 kg·m²", "rim_inertia: 3 kg·cm²\n    rotor_inertia: 26.3 kg·cm²"))
    assert frequencies_of(split, crank_held=False) == pytest.approx((0, 52.103, 172.131, 608.191), rel=1e-3)


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ((", inertia: 0.07248 kg·m²", ""), "the inertia of crank"),
        ((", stiffness: 170 kN", ""), "belt.stiffness"),
        ((", arm_inertia: 0.001165 kg·m²", ""), "pivot, arm_inertia and stiffness of the tensioner"),
        (("tension: 300 N\n", ""), "tension"),
        (("at: [0 mm, 0 mm]", "at: null"), "position (at) of alternator"),
    ],
)
def test_without_a_figure_that_they_need_frequencies_are_unknown(
    reference_with: Change, change: tuple[str, str], missing: str
) -> None:
    with pytest.raises(UnknownFigureError) as caught:
        frequencies_of(reference_with(change), crank_held=False)
    assert missing in caught.value.reason


def test_an_arm_that_would_swing_away_leaves_them_unknown(reference_with: Change) -> None:
    swinging = reference_with(
        ("116.4 N·m/rad", "0.001 N·m/rad"),
        ("pivot: [250.8 mm, 63.5 mm]", "pivot: [347.7 mm, 100 mm]"),
        ("stiffness: 170 kN", "stiffness: 1 N"),
        ("tension: 300 N", "tension: 50 kN"),
    )
    with pytest.raises(UnknownFigureError, match="would not stay"):
        frequencies_of(swinging, crank_held=False)


def test_the_reversal_is_load_over_inertia_and_ratio(reference: Drive) -> None:
    # Reference notes: torque reverses beyond Q/(J·i).
    expected_rad_s2 = 3.0 / (0.00293 * 177.8 / 53.94)
    assert reversal_of(reference) == pytest.approx(expected_rad_s2 / (2 * math.pi))


def test_the_rotors_own_inertia_goes_before_the_whole(reference_with: Change) -> None:
    assert reversal_of(reference_with(SPRING)) == pytest.approx(reversal_of(reference_with()) * 0.00293 / 0.003)


def test_a_soft_spring_isolates_at_idle_and_a_stiff_one_does_not(reference_with: Change) -> None:
    soft = isolation_of(reference_with(SPRING))
    assert soft.spring_hz == pytest.approx(math.sqrt(15 / 0.003) / (2 * math.pi))
    assert soft.firing_hz == 25
    assert soft.isolates
    assert soft.transmissibility is not None
    assert soft.transmissibility < 1
    stiff = isolation_of(reference_with((SPRING[0], SPRING[1].replace("15 N", "60 N"))))
    assert not stiff.isolates
    assert stiff.transmissibility is not None
    assert stiff.transmissibility > 1


def test_isolation_is_unknown_without_a_spring(reference: Drive) -> None:
    with pytest.raises(UnknownFigureError, match="spring"):
        isolation_of(reference)


def test_reversal_is_unknown_without_an_alternator(reference_with: Change) -> None:
    with pytest.raises(UnknownFigureError, match="an alternator"):
        reversal_of(reference_with(("part: alternator", "part: pump"), ("    pulley: solid\n", "")))


FITTED = (
    SPRING[0],
    SPRING[1].replace("spring: 15 N·m/rad", "spring: 15 N·m/rad\n    pulley: decoupler"),
)


def fitted(reference_with: Change, spring: str = "15 N·m/rad") -> Drive:
    return reference_with((FITTED[0], FITTED[1].replace("15 N·m/rad", spring)), ("    pulley: solid\n", ""))


def test_a_rotor_on_its_spring_adds_a_frequency_and_a_rigid_spring_changes_none(reference_with: Change) -> None:
    soft = fitted_frequencies_of(fitted(reference_with), crank_held=True)
    assert len(soft) == 4
    rigid = fitted_frequencies_of(fitted(reference_with, "1e7 N·m/rad"), crank_held=True)
    solid = frequencies_of(fitted(reference_with), crank_held=True)
    assert rigid[:3] == pytest.approx(solid, rel=1e-4)


def test_a_sprung_rotor_on_two_pulleys_rings_as_two_masses_on_two_springs_do() -> None:
    """Crank held: ring on both spans and the rotor's spring, rotor on that spring; the closed form of two masses."""
    drive = assemble(read_layout(layout_file("two-pulleys")))
    assert drive.route is not None
    spans_nm = 2 * 100e3 / drive.route.spans[0].length_m * 0.029**2
    rim, rotor, spring_nm = 0.0004, 0.0026, 60.0
    half = (spans_nm + spring_nm) / rim + spring_nm / rotor
    product = spans_nm * spring_nm / (rim * rotor)
    roots = [(half + sign * math.sqrt(half**2 - 4 * product)) / 2 for sign in (-1, 1)]
    expected = [math.sqrt(root) / (2 * math.pi) for root in roots]
    assert fitted_frequencies_of(drive, crank_held=True) == pytest.approx(expected, rel=1e-6)
    # Two cylinders fire once a turn, so that the firing meets f at 60·f r/min.
    assert meeting_speeds_of(drive, crank_held=True) == pytest.approx([60 * one for one in expected], rel=1e-6)
    assert len(meeting_speeds_of(drive, crank_held=False)) == 2


def test_a_clutch_that_drives_is_locked_and_counts_as_solid(reference_with: Change) -> None:
    clutch = reference_with(("pulley: solid", "pulley: one-way-clutch"))
    assert fitted_frequencies_of(clutch, crank_held=False) == frequencies_of(clutch, crank_held=False)


def test_without_its_spring_a_decouplers_frequencies_are_unknown(reference_with: Change) -> None:
    with pytest.raises(UnknownFigureError, match="rim_inertia"):
        fitted_frequencies_of(reference_with(("pulley: solid", "pulley: decoupler")), crank_held=False)


def test_with_the_ignition_off_only_the_rotors_bearings_hold_it_back(reference: Drive) -> None:
    assert unloaded_reversal_of(reference) == pytest.approx(reversal_of(reference) * 0.06 / 3.0)
