"""The compiled steps against the rows of numbers: the same laws, so the same figures, closely."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from tests.drive.motion.conftest import RAD_S, machine_of, ramp_event, ride, steady_event
from triage.drive.layout.assembly import Drive
from triage.drive.motion import compiled as compiling
from triage.drive.motion import running
from triage.drive.motion.events import Wish, switch_off
from triage.drive.motion.laws.crank import Ripple
from triage.drive.motion.machine import Variant
from triage.drive.motion.running import Kernel, UnsettledError
from triage.drive.motion.starting import steady

pytest.importorskip("numba")

STEP_S = 2e-4
WITHIN = 0.005
VARIANTS = (
    Variant("solid"),
    Variant("one-way-clutch"),
    Variant("decoupler"),
    Variant("isolator", "weak-tensioner"),
    Variant("decoupler", "slipping"),
    Variant("decoupler", "no-damping"),
    Variant("decoupler", "grip-lost"),
)
EVENTS = {
    "firing": steady_event(750, 0.12, ripple_deg=1.0, torque_nm=6.0),
    "slowing": ramp_event(2000, 600, 0.1, torque_nm=6.0),
    "stopping": switch_off(Ripple(0.0, 78.5, 2.0), 0.0, Wish(rpm=60 * RAD_S, seconds=0.15)),
}


@pytest.mark.parametrize("name", EVENTS)
def test_both_kernels_carry_a_drive_alike(seven: Drive, name: str) -> None:
    machine = machine_of(seven, VARIANTS)
    rows, compiled = (ride(machine, EVENTS[name], STEP_S, kernel=kernel) for kernel in ("numpy", "numba"))
    for column, variant in enumerate(VARIANTS):
        for field in ("tensions_n", "pulleys_rad_s", "rotor_rad_s", "arm_rad"):
            one, other = (getattr(run, field)[..., column] for run in (rows, compiled))
            room = max(float(np.ptp(one)), float(np.abs(one).max()) * WITHIN, 1e-9)
            assert np.abs(one - other).max() / room < WITHIN, (variant, field)
        slips = [float(np.abs(run.slip_m_s[..., column]).sum()) * STEP_S for run in (rows, compiled)]
        assert math.isclose(*slips, rel_tol=WITHIN, abs_tol=1e-5), variant


def test_slip_is_among_what_was_compared(seven: Drive) -> None:
    solid = ride(machine_of(seven, VARIANTS[:1]), EVENTS["slowing"], STEP_S, kernel="numba")
    assert np.abs(solid.slip_m_s).sum() * STEP_S > 0.001


def test_compiled_variants_do_not_know_of_each_other(seven: Drive) -> None:
    alone = ride(machine_of(seven, VARIANTS[:1]), EVENTS["firing"], STEP_S, kernel="numba")
    among = ride(machine_of(seven, VARIANTS), EVENTS["firing"], STEP_S, kernel="numba")
    assert (alone.tensions_n[:, :, 0] == among.tensions_n[:, :, 0]).all()


@pytest.mark.parametrize("kernel", ["numpy", "numba"])
def test_the_state_that_a_run_begins_with_is_nobody_elses(seven: Drive, kernel: Kernel) -> None:
    machine, event = machine_of(seven), EVENTS["firing"]
    state = steady(machine, 750 * RAD_S, 6.0)
    speeds = state.pulleys_rad_s.copy()
    kept = state.pulleys_rad_s
    ride(machine, event, STEP_S, state=state, kernel=kernel)
    assert (kept == speeds).all()


@pytest.mark.parametrize("kernel", ["numpy", "numba"])
def test_a_runaway_is_found_by_both(seven_with: Callable[..., Drive], kernel: Kernel) -> None:
    light = seven_with(("inertia: 0.00025 kg·m²}\n  - part: alt", "inertia: 1e-7 kg·m²}\n  - part: alt"))
    with pytest.raises(UnsettledError):
        ride(machine_of(light, VARIANTS[:1]), EVENTS["firing"], STEP_S, kernel=kernel)


def test_without_the_compiler_rows_of_numbers_are_usual(monkeypatch: pytest.MonkeyPatch) -> None:
    assert running.usual_kernel() == "numba"
    monkeypatch.setattr(running, "find_spec", lambda _: None)
    assert running.usual_kernel() == "numpy"


def test_where_nothing_can_be_kept_it_is_compiled_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    def nowhere(**options: bool) -> Callable[[object], object]:
        if options:
            raise RuntimeError("no locator available")
        return lambda function: function

    monkeypatch.setattr(compiling, "njit", nowhere)
    assert compiling.compiled(math.sqrt) is math.sqrt
