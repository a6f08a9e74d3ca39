"""Margins against slip, worked out a second way for a drive small enough for paper."""

import math
from collections.abc import Callable

import pytest

from triage.drive.figures.all_figures import figures_of
from triage.drive.figures.derived import UnknownFigureError
from triage.drive.figures.running import Running
from triage.drive.figures.slip_margins import frictions_needed, grip_by_arm, grip_used, slip_margins
from triage.drive.layout.assembly import Drive
from triage.drive.pages.figures_page import account

Change = Callable[..., Drive]

ROTOR = (
    "inertia: 0.00293 kg·m²",
    "rim_inertia: 0.0003 kg·m²\n    rotor_inertia: 0.00263 kg·m²\n    overrun_drag: 0.2 N·m",
)
FRICTION, GROOVE_RAD, REST_N, OWN_N = 0.35, math.radians(40), 300.0, 0.1029 * 6.982189672603316**2
WRAPS_RAD = [math.radians(degrees) for degrees in (221.12514, 42.95302, 181.82787)]


ARM = ", pivot: [250.8 mm, 63.5 mm], arm_inertia: 0.001165 kg·m², stiffness: 116.4 N·m/rad"
NO_ARM = (ARM, "")
"""Without its arm's data a tensioner keeps the mean of its two spans, m·v² added: net of that it stays as at rest."""


def held(position: int) -> float:
    wedge = 1.0 if position == 1 else 1 / math.sin(GROOVE_RAD / 2)
    return math.exp(FRICTION * WRAPS_RAD[position] * wedge)


def test_steady_the_alternators_load_lies_on_its_tight_span(reference_with: Change) -> None:
    # Both spans at the tensioner stay at 300 N; the span to the crank carries 3 N·m over the pulley's radius more.
    tight_n = REST_N + 3.0 / 0.02697
    needed = tight_n / REST_N
    expected = [held(0) / needed, held(1), held(2) / needed]
    running = Running(reference_with(NO_ARM), 12.5)
    assert slip_margins(running, "solid", 0.0) == pytest.approx(expected, rel=1e-5)
    # The shares of grip: ln(T₁/T₂)/(μ·contact), so that a margin of one is a share of one.
    shares = [math.log(needed) / math.log(held(0)), 0.0, math.log(needed) / math.log(held(2))]
    assert grip_used(running, "solid", 0.0) == pytest.approx(shares, rel=1e-5, abs=1e-12)
    assert frictions_needed(running, "solid", 0.0) == pytest.approx([FRICTION * share for share in shares], rel=1e-6)


@pytest.mark.parametrize(("pulley", "passed_nm"), [("solid", None), ("one-way-clutch", 0.0), ("decoupler", -0.2)])
def test_slowing_the_pulley_type_decides_what_the_rotor_does_to_the_belt(
    reference_with: Change, pulley: str, passed_nm: float | None
) -> None:
    drive = reference_with(ROTOR, NO_ARM)
    slowing_rev_s2 = 100.0  # 6000 r/min each second: beyond the reversal
    rim_m_s2 = 2 * math.pi * slowing_rev_s2 * 0.0889
    alternator_rad_s2, tensioner_rad_s2 = rim_m_s2 / 0.02697, rim_m_s2 / 0.0452
    ring_nm = 3.0 - 0.00263 * alternator_rad_s2 if passed_nm is None else passed_nm
    step_n = (ring_nm - 0.0003 * alternator_rad_s2) / 0.02697
    tensioner_step_n = -0.000293 * tensioner_rad_s2 / 0.0452
    into = REST_N - tensioner_step_n / 2
    out = REST_N + tensioner_step_n / 2
    last = out + step_n
    spans = [into, out, last]
    expected = [held(i) * min(spans[i - 1], spans[i]) / max(spans[i - 1], spans[i]) for i in range(3)]
    assert slip_margins(Running(drive, 12.5), pulley, slowing_rev_s2) == pytest.approx(expected, rel=1e-4)  # type: ignore[arg-type]


def test_an_isolator_counts_like_a_solid_pulley_for_mean_torque(reference: Drive) -> None:
    assert slip_margins(Running(reference, 12.5), "isolator", 50.0) == slip_margins(
        Running(reference, 12.5), "solid", 50.0
    )


def test_hard_slowing_takes_a_solid_pulleys_belt_below_the_edge_and_a_clutch_keeps_it(reference_with: Change) -> None:
    # Invented figures: the rotor needs far more than the belt can give back.
    drive = reference_with(ROTOR, ("friction: 0.35", "friction: 0.1"))
    solid = slip_margins(Running(drive, 12.5), "solid", 150.0)[2]
    clutch = slip_margins(Running(drive, 12.5), "one-way-clutch", 150.0)[2]
    assert solid < 1 < clutch


def test_without_a_tensioner_the_belts_length_keeps_the_level(reference_with: Change) -> None:
    fixed = reference_with(
        ("part: tensioner", "part: idler"), ("tensioner: {pulley: tensioner", "tensioner: {pulley: x")
    )
    assert fixed.tensioner is None
    lengths = [0.15479868, 0.34489550, 0.55182632]
    step_n = 3.0 / 0.02697
    level = REST_N - step_n * lengths[2] / sum(lengths) - OWN_N
    expected = held(2) * level / (level + step_n)
    assert slip_margins(Running(fixed, 12.5), "solid", 0.0)[2] == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("change", "pulley", "slowing", "missing"),
    [
        ((", friction: 0.35", ""), "solid", 0.0, "belt.friction"),
        (("groove_angle: 40 deg\n", ""), "solid", 0.0, "groove_angle"),
        (("tension: 300 N\n", ""), "solid", 0.0, "tension"),
        (("mass_per_metre: 0.1029 kg/m, ", ""), "solid", 0.0, "belt.mass_per_metre"),
        (("    torque: 3 N·m\n", ""), "solid", 0.0, "the torque of alternator"),
        (("    inertia: 0.00293 kg·m²\n", ""), "solid", 30.0, "the inertia of alternator"),
        (("ribs: 6", "ribs: 6"), "one-way-clutch", 30.0, "the rotor_inertia of alternator"),
        (
            ("inertia: 0.00293 kg·m²", "rim_inertia: 0.0003 kg·m²\n    rotor_inertia: 0.00263 kg·m²"),
            "decoupler",
            100.0,
            "the overrun_drag of alternator",
        ),
    ],
)
def test_what_is_missing_is_named(
    reference_with: Change, change: tuple[str, str], pulley: str, slowing: float, missing: str
) -> None:
    with pytest.raises(UnknownFigureError) as caught:
        slip_margins(Running(reference_with(change), 12.5), pulley, slowing)  # type: ignore[arg-type]
    assert missing in caught.value.reason


def test_a_side_that_goes_slack_uses_up_any_grip(reference_with: Change) -> None:
    loaded = Running(reference_with(NO_ARM, ("tension: 300 N", "tension: 0.001 N"), ROTOR), 12.5)
    assert min(slip_margins(loaded, "solid", 100.0)) == 0
    assert math.inf in grip_used(loaded, "solid", 100.0)


def test_speeding_up_a_heavy_rotor_needs_more_grip_than_running_steady(reference: Drive) -> None:
    running = Running(reference, 12.5)
    assert grip_used(running, "solid", -100.0)[2] > grip_used(running, "solid", 0.0)[2]


def test_dry_friction_at_the_arm_widens_what_a_wrap_may_use(reference: Drive) -> None:
    held, pressed = grip_by_arm(Running(reference, 12.5))
    free = grip_used(Running(reference, 12.5), "solid", 0.0)
    assert pressed[0] < free[0] < held[0]
    with_arm = account(reference, figures_of(reference, 12.5))
    assert f"between {pressed[0] * 100:.0f} and {held[0] * 100:.0f} % of its grip" in " ".join(with_arm.split())
