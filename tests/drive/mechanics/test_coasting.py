"""A rotor that runs on, against the same law integrated in small steps and against its limit without air."""

import pytest

from triage.drive.mechanics.coasting import coast_drag, coast_time


def integrated(inertia: float, speed: float, drag: float, windage: float) -> float:
    """The law in small steps of the midpoint rule, until the rotor stands."""
    time, step = 0.0, 1e-4
    while speed > 0:
        middle = speed - step / 2 * (drag + windage * speed**2) / inertia
        slower = speed - step * (drag + windage * middle**2) / inertia
        time += step if slower > 0 else step * speed / (speed - slower)
        speed = slower
    return time


@pytest.mark.parametrize("drag", [0.06, 0.3, 1.02])
def test_a_coast_follows_its_law(drag: float) -> None:
    assert coast_time(0.0031, 650.0, drag, 5e-7) == pytest.approx(integrated(0.0031, 650.0, drag, 5e-7), rel=1e-5)


def test_without_air_it_is_the_angular_momentum_over_the_drag() -> None:
    assert coast_time(0.0031, 650.0, 0.5, 0.0) == pytest.approx(0.0031 * 650 / 0.5)
    assert coast_time(0.0031, 650.0, 0.5, 1e-20) == pytest.approx(0.0031 * 650 / 0.5)


def test_a_drag_found_from_a_coast_gives_that_coast() -> None:
    drag = coast_drag(0.0031, 650.0, 4.0, 5e-7)
    assert coast_time(0.0031, 650.0, drag, 5e-7) == pytest.approx(4.0)
    # Without air J·ω/t, and the air takes its share of that.
    assert drag < 0.0031 * 650 / 4.0


def test_where_air_stops_it_nearly_alone_hardly_any_drag_is_left() -> None:
    assert coast_drag(0.0031, 650.0, 2000.0, 5e-7) < 1e-4
    assert coast_drag(0.0031, 650.0, 2000.0, 0.0) == pytest.approx(0.0031 * 650 / 2000)
