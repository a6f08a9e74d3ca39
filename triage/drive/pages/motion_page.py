"""A simulated event as a page of plain text: what was asked, what came out, what was taken for granted."""

import math
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from triage.knowledge.models import PulleyType

if TYPE_CHECKING:
    # A page needs no rows of numbers itself.
    from triage.drive.motion.events import Event
    from triage.drive.motion.figures import Figures
    from triage.drive.motion.machine import Variant
    from triage.drive.motion.simulating import Answer

WIDTH = 80
LIMITS = (
    "Worked out from the layout alone: no sideways motion of the belt, no bending, one figure of friction. "
    "These figures explain. The vehicle maker's procedure decides."
)
_NONE = "-"
_RPM = 60 / math.tau


def account_of_run(
    answer: "Answer", name: str, findings: Sequence[tuple[str, ...]], notes: Sequence[str], fitted: PulleyType
) -> str:
    """Write a page about a simulated event.

    Args:
        answer: what came out.
        name: of the layout.
        findings: for each variant what the checks would read.
        notes: what was left out or taken for granted.
        fitted: pulley of the layout, with which the others are compared.

    Returns:
        lines of text.

    Source: common-practice
    """
    variants = list(zip(answer.machine.variants, answer.figures, findings, strict=True))
    blocks = [_asked(answer.event, name)]
    if len(variants) > 1:
        blocks += [_table(variants), _words(variants, fitted)]
    else:
        blocks += [_one(*variants[0])]
    blocks.append([line for note in notes for line in _folded(note)])
    blocks.append(_folded(f"{_run(answer)} {LIMITS}"))
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _asked(event: "Event", name: str) -> list[str]:
    speeds = [speed * _RPM for speed in event.course.speeds_rad_s]
    course = f"from {speeds[0]:.0f} r/min" if event.free_crank else f"at {speeds[0]:.0f} r/min"
    if len(speeds) > 1:
        ramp_s = event.course.times_s[-1] - event.course.times_s[-2]
        rate = abs(speeds[-1] - speeds[-2]) / ramp_s if ramp_s else 0.0
        course = f"from {speeds[0]:.0f} to {speeds[-1]:.0f} r/min, {rate:.0f} r/min each second"
    if event.kind == "load-step":
        course += f", the alternator's torque from {event.torques_nm[0][1]:g} to {event.torques_nm[-1][1]:g} N·m"
    shake = "" if event.free_crank else f" The crank shakes by {math.degrees(event.ripple.idle_rad):g}° at idle."
    return _folded(f"{event.kind} of {name}, {course}.{shake}")


def _one(variant: "Variant", figures: "Figures", found: tuple[str, ...]) -> list[str]:
    tensions = f"{figures.tension_min_n:.0f} to {figures.tension_max_n:.0f} N"
    lines = [
        f"{said(variant)}:",
        f"  span tension {tensions}, largest swing of one span {figures.tension_swing_n:.0f} N",
    ]
    if figures.arm_swing_mm is not None:
        lines.append(f"  tensioner pulley swings {figures.arm_swing_mm:.2f} mm end to end")
    if figures.rotor_swing_rpm is not None and figures.rotor_ahead_rpm is not None:
        ahead = figures.rotor_ahead_rpm
        far = (
            f"ahead of its ring by {ahead:.0f}" if ahead >= 0 else f"never nearer to its ring's speed than {-ahead:.0f}"
        )
        lines.append(f"  rotor speed swings {figures.rotor_swing_rpm:.0f} r/min, {far} r/min")
        lines.append(f"  rotor overruns its pulley for {figures.overrun_s:.3f} s")
    lines.append(f"  {_slipped(figures)}")
    if figures.ring_still_s is not None:
        rest = f"the rotor after {figures.rotor_still_s:.2f} s" if figures.rotor_still_s is not None else "no rotor"
        lines.append(f"  the ring stands after {figures.ring_still_s:.2f} s, {rest}")
    if found:
        lines.append(f"  as the checks would read it: {', '.join(found)}")
    return lines


def _slipped(figures: "Figures") -> str:
    if figures.slip_mm < SLIGHT_MM:
        return "the belt does not slip"
    most = max(figures.slip_by_pulley_mm, key=lambda part: figures.slip_by_pulley_mm[part])
    return f"the belt slips {figures.slip_mm:.1f} mm, most on {most}"


SLIGHT_MM = 0.05
"""Slip that a figure in tenths of a millimetre does not show."""


def _table(variants: "list[tuple[Variant, Figures, tuple[str, ...]]]") -> list[str]:
    head = f"{'':<28}{'tension N':>13}{'swing':>7}{'arm mm':>8}{'ahead':>7}{'slip mm':>9}{'coast s':>8}"
    lines = [head]
    for variant, figures, _ in variants:
        spread = f"{figures.tension_min_n:.0f}-{figures.tension_max_n:.0f}"
        lines.append(
            f"{_short(variant):<28}{spread:>13}{figures.tension_swing_n:>7.0f}{_fixed(figures.arm_swing_mm, 2):>8}"
            f"{_fixed(figures.rotor_ahead_rpm, 0):>7}{figures.slip_mm:>9.1f}{_fixed(figures.coast_s, 1):>8}"
        )
    return [*lines, *_folded("swing: largest of one span, N. ahead: rotor over its ring, r/min.")]


def _words(variants: "list[tuple[Variant, Figures, tuple[str, ...]]]", fitted: PulleyType) -> list[str]:
    """What each variant would have done against the pulley that is fitted and sound."""
    base = next((row for row in variants if row[0].pulley == fitted and not row[0].fault), variants[0])
    lines = []
    for variant, figures, found in variants:
        here = ", ".join(found) or "nothing that a check would read"
        if variant is base[0]:
            lines += _folded(f"{said(variant)}, as fitted: {here}.")
            continue
        ratio = figures.tension_swing_n / base[1].tension_swing_n if base[1].tension_swing_n else math.inf
        lines += _folded(f"{said(variant)}: {here}; a span swings {_times(ratio)}.")
    return lines


def _times(ratio: float) -> str:
    if not math.isfinite(ratio):
        return "where it stood still before"
    if 1 / ALIKE <= ratio <= ALIKE:
        return "about as much"
    return f"{ratio:.1f} times as much" if ratio > 1 else f"{ratio:.2f} times as much"


ALIKE = 1.1
"""Swings within a tenth are called alike."""


def said(variant: "Variant") -> str:
    """A variant in a few words."""
    return f"{variant.pulley}, {variant.fault}" if variant.fault else f"{variant.pulley} pulley"


def _short(variant: "Variant") -> str:
    return f"{variant.pulley}, {variant.fault}" if variant.fault else variant.pulley


def _run(answer: "Answer") -> str:
    steps = answer.figures[0].steps
    return f"{steps} steps of {answer.step_s * 1000:g} ms."


def _fixed(value: float | None, decimals: int) -> str:
    return _NONE if value is None else f"{value:.{decimals}f}"


def _folded(sentence: str, indent: str = "") -> list[str]:
    return textwrap.wrap(sentence, WIDTH, initial_indent=indent, subsequent_indent="  ")
