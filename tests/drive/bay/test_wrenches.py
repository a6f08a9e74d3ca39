"""Adapters on torque wrenches against two service manuals."""

import math

import pytest

from triage.drive.bay.formulas import FORMULAS

ADAPTER_SETTING = FORMULAS["adapter-setting"].function
ADAPTER_TORQUE = FORMULAS["adapter-torque"].function
INCH_M = 0.0254
POUND_INCH_NM = 0.112984829  # NIST SP 811, App. B.8, seen


@pytest.mark.parametrize(
    ("source", "torque_lbf_in", "wrench_in", "adapter_in", "angle_deg", "printed", "exact"),
    [
        ("US Navy NAVEDTRA 14315, fig. 3-44/45, seen", 100, 12, 6, 0, 66.7, 66.667),
        ("US Army TM 1-1500-204-23-9, fig. 8-16, seen", 300, 10, 4, 0, 214, 214.286),
        ("reference notes, recomputed", 135, 10, 1.5, 0, 117.39, 117.391),
        ("reference notes, reversed adapter, recomputed", 135, 10, 1.5, 180, 158.82, 158.824),
        ("common practice, no correction at a right angle", 100, 12, 6, 90, 100, 100),
    ],
)
def test_settings_agree_with_the_manuals(
    source: str,
    torque_lbf_in: float,
    wrench_in: float,
    adapter_in: float,
    angle_deg: float,
    printed: float,
    exact: float,
) -> None:
    setting_nm = ADAPTER_SETTING(
        torque_lbf_in * POUND_INCH_NM, wrench_in * INCH_M, adapter_in * INCH_M, math.radians(angle_deg)
    )
    assert setting_nm / POUND_INCH_NM == pytest.approx(exact, abs=5e-4), source
    assert setting_nm / POUND_INCH_NM == pytest.approx(printed, abs=0.5), source


def test_a_reading_goes_back_to_the_torque_that_it_was_set_for() -> None:
    setting_nm = ADAPTER_SETTING(85.0, 0.4, 0.06, math.radians(35))
    assert ADAPTER_TORQUE(setting_nm, 0.4, 0.06, math.radians(35)) == pytest.approx(85.0)


def test_an_adapter_that_points_back_to_the_hand_is_refused() -> None:
    with pytest.raises(ValueError, match="as far as the hand"):
        ADAPTER_SETTING(50.0, 0.3, 0.3, math.pi)
