"""Standard uncertainties against published deviations and by hand."""

import math

import pytest

from triage.units import standard_uncertainty


def test_a_torque_tool_has_the_standard_uncertainty_of_its_permissible_deviation() -> None:
    # ISO 6789-1:2017, ±4 % above 10 N·m and ±6 % up to it, from memory; rectangular: u = limit/√3.
    assert standard_uncertainty(0.04 * 90.0) == pytest.approx(90 * 0.04 / math.sqrt(3))
    assert standard_uncertainty(0.06) == pytest.approx(0.034641, abs=5e-7)


def test_deviations_add_in_quadrature() -> None:
    assert standard_uncertainty(0.3, 0.4, 1.2) == pytest.approx(math.sqrt((0.3**2 + 0.4**2 + 1.2**2) / 3))


def test_without_any_deviation_there_is_no_uncertainty_and_it_has_no_sign() -> None:
    assert standard_uncertainty() == standard_uncertainty(0.0, 0.0) == 0
    assert standard_uncertainty(-0.4) == standard_uncertainty(0.4)
