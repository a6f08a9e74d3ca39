"""Hand tools of the alternator's rotor and its belt."""

import math

import pytest

from triage.drive.bay.formulas import evaluate
from triage.errors import QuantityRefused


def test_the_torque_of_an_alternator_is_what_it_gives_over_its_efficiency_and_speed() -> None:
    # 14.3 V · 70 A = 1001 W at the terminals; at 67 % 1494 W at the shaft, 6000 r/min are 628.3 rad/s.
    value, width = evaluate("alternator-torque", (14.3, 70.0, 100.0, 0.67), (0.0, 2.0, 0.0, 0.0))
    assert value == pytest.approx(2.378, abs=1e-3)
    assert width == pytest.approx(value * 2 / 70)


def test_no_alternator_gives_more_than_it_takes() -> None:
    with pytest.raises(QuantityRefused, match="at most 1"):
        evaluate("alternator-torque", (14.3, 70.0, 100.0, 67.0), (0.0,) * 4)


def test_without_air_a_drag_is_the_angular_momentum_over_the_time() -> None:
    value, _ = evaluate("coast-drag", (0.0031, 100.0, 4.0, 0.0), (0.0,) * 4)
    assert value == pytest.approx(0.0031 * 2 * math.pi * 100 / 4)
    with_air, _ = evaluate("coast-drag", (0.0031, 100.0, 4.0, 0.2), (0.0,) * 4)
    assert 0 < value - with_air < 0.2


def test_a_wrap_at_the_edge_of_slipping_uses_all_of_its_grip() -> None:
    # Khurmi & Gupta, ex. 11.17: 2β 30°, θ π, μ 0.12 hold 4750.35 N against 1106.98 N; ex. 11.4 on a flat pulley.
    grooved, _ = evaluate("grip-used", (4750.35, 1106.98, math.pi, 0.12, math.radians(30)), (0.0,) * 5)
    flat, _ = evaluate("grip-used", (2500.0, 1243.78, math.radians(160), 0.25, math.pi), (0.0,) * 5)
    assert (grooved, flat) == pytest.approx((1, 1), abs=1e-5)


def test_the_firing_of_four_cylinders_meets_25_hz_at_750_r_min() -> None:
    assert evaluate("firing-speed", (25.0, 4.0), (0.0, 0.0))[0] * 60 == pytest.approx(750)
