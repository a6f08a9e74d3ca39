"""Natural frequencies against the published reference drive, closed forms, finite differences and scipy."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import eigh

from triage.drive.mechanics.arm import Arm, UnsteadyArmError
from triage.drive.mechanics.geometry import BeltPath, Circle, route_belt, trace_belt
from triage.drive.mechanics.rotation import Rotor, natural_frequencies, stiffness_matrix

# Beikmann, Perkins & Ulsoy, J. Vib. Acoust. 118(3), 1996; data from memory, cross-checked in the reference notes.
ARM = Arm(pulley=1, pivot=(0.2508, 0.0635), inertia_kg_m2=0.001165, stiffness_nm_rad=116.4)
CIRCLES = (Circle(0.5525, 0.0556, 0.0889), Circle(0.3477, 0.05715, 0.0452, on_back=True), Circle(0, 0, 0.02697))
REFERENCE = Rotor(route_belt(CIRCLES), (0.07248, 0.000293, 0.00293), 170e3, 300.0, ARM)


def two_pulleys(tension_n: float = 300.0) -> Rotor:
    return Rotor(route_belt([Circle(0, 0, 0.08), Circle(0.4, 0, 0.03)]), (0.05, 0.003), 170e3, tension_n)


def potential(rotor: Rotor, angles: np.ndarray) -> float:
    """Energy of belt and arm spring for finite angles, from the path that the belt then takes."""
    assert rotor.arm is not None
    moved = moved_route(rotor, float(angles[-1]))
    rest = rotor.route
    energy = 0.0
    for i, span in enumerate(rest.spans):
        j = (i + 1) % len(rest.spans)
        turned = math.remainder(moved.spans[i].heading_rad - span.heading_rad, 2 * math.pi)
        # As the span swings, belt winds onto the pulley that it leaves and off the pulley that it reaches.
        stretch = moved.spans[i].length_m - span.length_m
        stretch += turned * (rest.turns[i] * rest.circles[i].radius_m - rest.turns[j] * rest.circles[j].radius_m)
        stretch += rest.circles[j].radius_m * angles[j] - rest.circles[i].radius_m * angles[i]
        energy += rotor.tension_n * stretch + rotor.axial_stiffness_n / span.length_m * stretch**2 / 2
    return energy + rotor.arm.stiffness_nm_rad * float(angles[-1]) ** 2 / 2


def moved_route(rotor: Rotor, arm_rad: float) -> BeltPath:
    assert rotor.arm is not None
    circle = rotor.route.circles[rotor.arm.pulley]
    x, y = circle.x_m - rotor.arm.pivot[0], circle.y_m - rotor.arm.pivot[1]
    cosine, sine = math.cos(arm_rad), math.sin(arm_rad)
    x, y = rotor.arm.pivot[0] + cosine * x - sine * y, rotor.arm.pivot[1] + sine * x + cosine * y
    circles = list(rotor.route.circles)
    circles[rotor.arm.pulley] = replace(circle, x_m=x, y_m=y)
    return trace_belt(circles, rotor.route.turns[0])


def finite_differences(rotor: Rotor, step: float = 2e-4) -> np.ndarray:
    size = len(rotor.route.circles) + 1
    hessian = np.zeros((size, size))
    for i in range(size):
        for j in range(size):
            for one, other in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
                angles = np.zeros(size)
                angles[i] += one * step
                angles[j] += other * step
                hessian[i, j] += one * other * potential(rotor, angles) / (4 * step**2)
    return hessian


def test_the_reference_drive_rings_at_its_frequencies() -> None:
    # Computed in the reference notes from the published data, to 0.1 %.
    assert natural_frequencies(REFERENCE) == pytest.approx([0, 52.103, 172.131, 608.191], rel=1e-3)


def test_the_reference_drive_with_its_crank_held() -> None:
    found = natural_frequencies(REFERENCE, crank_held=True)
    assert found == pytest.approx([43.803, 170.319, 606.159], rel=1e-3)


def test_two_pulleys_agree_with_the_closed_form() -> None:
    rotor = two_pulleys()
    span_m = rotor.route.spans[0].length_m
    closed_hz = math.sqrt(2 * 170e3 / span_m * (0.08**2 / 0.05 + 0.03**2 / 0.003)) / (2 * math.pi)
    assert closed_hz == pytest.approx(96.3743, abs=5e-5)
    assert natural_frequencies(rotor) == pytest.approx([0, closed_hz], rel=1e-9)


def test_the_stiffness_matrix_is_the_curvature_of_the_potential() -> None:
    exact = stiffness_matrix(REFERENCE)
    assert exact == pytest.approx(exact.T)
    assert exact == pytest.approx(finite_differences(REFERENCE), rel=2e-4, abs=1e-2)


def test_tension_stiffens_the_arm_and_nothing_else() -> None:
    slack = stiffness_matrix(replace(REFERENCE, tension_n=0.0))
    difference = stiffness_matrix(REFERENCE) - slack
    assert np.count_nonzero(difference) == 1
    assert difference[-1, -1] == pytest.approx((finite_differences(REFERENCE) - slack)[-1, -1], rel=1e-2)


@given(st.floats(0.2, 5), st.floats(0.2, 5), st.floats(0.2, 5))
@settings(deadline=None)
def test_frequencies_agree_with_a_general_eigensolver(crank: float, pulley: float, arm: float) -> None:
    inertias = (0.07248 * crank, 0.000293 * pulley, 0.00293)
    rotor = replace(REFERENCE, inertias_kg_m2=inertias, arm=replace(ARM, inertia_kg_m2=ARM.inertia_kg_m2 * arm))
    squares = eigh(stiffness_matrix(rotor), np.diag([*inertias, ARM.inertia_kg_m2 * arm]), eigvals_only=True)
    expected = np.sqrt(np.maximum(squares, 0)) / (2 * math.pi)
    assert natural_frequencies(rotor)[1:] == pytest.approx(expected[1:], rel=1e-6)


def test_without_an_arm_tension_changes_nothing() -> None:
    assert natural_frequencies(two_pulleys(0.0)) == pytest.approx(natural_frequencies(two_pulleys(900.0)))


def test_an_arm_that_cannot_hold_its_place_is_refused() -> None:
    weak = Arm(pulley=1, pivot=(0.3477, 0.1), inertia_kg_m2=0.001165, stiffness_nm_rad=1e-3)
    with pytest.raises(UnsteadyArmError):
        natural_frequencies(replace(REFERENCE, arm=weak, tension_n=50e3, axial_stiffness_n=1.0))
