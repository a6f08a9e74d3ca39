"""Springs against vibration textbook examples."""

import math

import pytest

from triage.drive.mechanics.isolation import ISOLATION_LIMIT, spring_frequency, transmissibility


def test_a_torsional_pendulum_swings_as_the_textbook_says() -> None:
    # Grover, Mechanical Vibrations, ex. 2.4.1, seen: wire 1 m by 5 mm, G 0.83e11 Pa, J 0.01 kg·m².
    stiffness_nm_rad = 0.83e11 * math.pi * 0.005**4 / 32 / 1.0
    assert 2 * math.pi * spring_frequency(stiffness_nm_rad, 0.01) == pytest.approx(22.5673, abs=5e-5)


@pytest.mark.parametrize(("stiffness_n_m", "printed"), [(1.96e6, 1.2214), (9.8e4, 0.38087)])
def test_a_machine_on_springs_passes_on_what_the_textbook_says(stiffness_n_m: float, printed: float) -> None:
    # Grover, ex. 4.10.1, seen: 1000 kg at 180 r/min; the same equation holds for a mass on a straight spring.
    natural_hz = spring_frequency(stiffness_n_m, 1000.0)
    assert transmissibility(180 / 60, natural_hz) == pytest.approx(printed, abs=5e-5)


def test_isolation_begins_at_the_square_root_of_two() -> None:
    assert transmissibility(ISOLATION_LIMIT, 1.0) == pytest.approx(1.0)
    assert transmissibility(1.01 * ISOLATION_LIMIT, 1.0) < 1 < transmissibility(0.99 * ISOLATION_LIMIT, 1.0)
    assert transmissibility(1.0, 1.0) == math.inf
