"""A tensioner's arm against forces on its pulley, worked out as vectors, and against a belt that is too long for it."""

import math
from collections.abc import Callable

import pytest

from triage.drive.figures.running import Running
from triage.drive.figures.tensions import balance_of, pulled_by
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.arm import Arm, Pulled, UnsteadyArmError, balance, fitting_turn, take_up, turned
from triage.drive.mechanics.geometry import BeltPath

Change = Callable[..., Drive]
PULLED = Pulled((0.0, 0.0, 111.2), 300.0, 5.0, 170e3)


def parts(drive: Drive) -> tuple[BeltPath, Arm]:
    assert drive.route is not None
    assert drive.arm is not None
    return drive.route, drive.arm


def moment_nm(path: BeltPath, arm: Arm, tensions: tuple[float, ...], own_n: float) -> float:
    """Moment of the belt on the arm about its pivot, from the forces of both spans as vectors."""
    circle = path.circles[arm.pulley]
    lever = circle.x_m - arm.pivot[0], circle.y_m - arm.pivot[1]
    force = [0.0, 0.0]
    for span, sign in ((arm.pulley - 1, -1), (arm.pulley, 1)):
        run = path.spans[span]
        ahead = (run.end[0] - run.start[0]) / run.length_m, (run.end[1] - run.start[1]) / run.length_m
        for axis in (0, 1):
            force[axis] += sign * (tensions[span] - own_n) * ahead[axis]
    return lever[0] * force[1] - lever[1] * force[0]


def test_arm_and_belt_are_in_balance_with_the_spring_and_the_belts_own_length(reference: Drive) -> None:
    route, arm = parts(reference)
    found = balance(route, arm, PULLED)
    preload_nm = -moment_nm(route, arm, (300.0,) * 3, 0.0)
    spring_nm = preload_nm - arm.stiffness_nm_rad * found.turn_rad
    assert -moment_nm(found.route, arm, found.tensions_n, 5.0) == pytest.approx(spring_nm, rel=1e-9)
    pairs = zip(found.tensions_n, found.route.spans, strict=True)
    stretched_m = sum((tension_n - 300.0) * span.length_m for tension_n, span in pairs) / 170e3
    assert found.route.length_m - route.length_m == pytest.approx(stretched_m, rel=1e-9)
    # The load makes its own span longer, so that the arm follows.
    assert 0 < abs(found.turn_rad) < 0.1


def test_at_rest_the_arm_stays_where_the_layout_puts_it(reference: Drive) -> None:
    found = balance(*parts(reference), Pulled((0.0,) * 3, 300.0, 0.0, 170e3))
    assert found.turn_rad == pytest.approx(0, abs=1e-12)
    assert found.tensions_n == pytest.approx((300.0,) * 3)


def test_what_an_arm_takes_up_is_the_slope_of_the_way_round(reference: Drive) -> None:
    route, arm = parts(reference)
    slope = (turned(route, arm, 1e-6).length_m - turned(route, arm, -1e-6).length_m) / 2e-6
    assert take_up(route, arm) == pytest.approx(slope, rel=1e-6)


def test_a_belt_that_does_not_stretch_keeps_the_arm_and_finds_its_level_at_it(reference: Drive) -> None:
    route, arm = parts(reference)
    found = balance(route, arm, Pulled(PULLED.steps_n, 300.0, 5.0, None))
    assert found.turn_rad == 0
    assert moment_nm(route, arm, found.tensions_n, 5.0) == pytest.approx(moment_nm(route, arm, (300.0,) * 3, 0.0))
    stiff = balance(route, arm, Pulled(PULLED.steps_n, 300.0, 5.0, 1e12))
    assert stiff.tensions_n == pytest.approx(found.tensions_n, rel=1e-4)


def test_dry_friction_that_holds_the_arm_back_lowers_the_tension_and_the_other_way_raises_it(reference: Drive) -> None:
    route, arm = parts(reference)
    lowest, middle, highest = (
        balance(route, arm, Pulled(PULLED.steps_n, 300.0, 5.0, 170e3, held_nm)).tensions_n[0]
        for held_nm in (4.0, 0.0, -4.0)
    )
    assert lowest < middle < highest


def test_an_arm_fits_the_belt_that_its_turn_makes_long_enough_and_no_other(reference: Drive) -> None:
    route, arm = parts(reference)
    assert fitting_turn(route, arm, turned(route, arm, 0.1).length_m) == pytest.approx(0.1)
    assert fitting_turn(route, arm, turned(route, arm, -0.1).length_m) == pytest.approx(-0.1)
    assert fitting_turn(route, arm, route.length_m * 1.5) is None


def test_an_arm_without_any_balance_is_said_to_have_none(reference: Drive) -> None:
    with pytest.raises(UnsteadyArmError, match="no balance"):
        balance(*parts(reference), Pulled((0.0, 0.0, 1e6), 300.0, 0.0, 170e3))


def test_the_level_of_a_drive_depends_on_its_arm(reference_with: Change) -> None:
    running = Running(reference_with(), 12.5)
    found = balance_of(running, pulled_by(running, "solid", 0.0))
    assert found.tensions_n[1] == pytest.approx(found.tensions_n[0])
    assert found.tensions_n[0] != pytest.approx(300.0, rel=1e-3)
    assert math.degrees(abs(found.turn_rad)) < 5
