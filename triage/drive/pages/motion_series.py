"""A run over time as it is published and drawn: plain numbers, one list a quantity."""

from triage.drive.motion.figures import DIGITS, Series
from triage.drive.motion.machine import Array, Machine
from triage.drive.motion.simulating import Answer
from triage.drive.pages.motion_chart import Panel


def series_of(machine: Machine, series: Series, column: int) -> dict[str, object]:
    """Put one variant's run in lists, rounded like its figures.

    Args:
        machine: what was run.
        series: how it went.
        column: position of the variant [1].

    Returns:
        lists by name, each with its unit in its name.

    Source: common-practice
    """
    tensions = series.tensions_n[:, :, column]
    return {
        "time_s": _listed(series.times_s),
        "tension_n": {part: _listed(tensions[:, at]) for at, part in enumerate(machine.parts)},
        "rotor_rpm": _listed(series.rotor_rpm[:, column]) if machine.alternator is not None else None,
        "ring_rpm": _listed(series.ring_rpm[:, column]) if machine.alternator is not None else None,
        "arm_mm": _listed(series.arm_mm[:, column]) if machine.paths is not None else None,
    }


def panels(answer: Answer) -> tuple[list[float], list[Panel]]:
    """Choose what is drawn of a run: the tension of the span that swings most, the rotor, the arm.

    Args:
        answer: what came out of it.

    Returns:
        times, and what is drawn over them [s].

    Source: common-practice
    """
    series, machine = answer.series, answer.machine
    begun, ended = answer.event.window_s
    shown = (series.times_s >= min(begun, series.times_s[-1] / 2)) & (series.times_s <= ended)
    tensions = series.tensions_n[shown]
    swings = (tensions.max(axis=0) - tensions.min(axis=0)).max(axis=1)
    span = int(swings.argmax())
    ends = f"{machine.parts[span]} to {machine.parts[(span + 1) % len(machine.parts)]}"
    drawn = [Panel(f"Tension from {ends}, N", tensions[:, span].T.tolist())]
    if machine.alternator is not None:
        drawn.append(Panel("Speed of the alternator's rotor, r/min", series.rotor_rpm[shown].T.tolist()))
    if machine.paths is not None:
        drawn.append(Panel("Way of the tensioner's pulley, mm", series.arm_mm[shown].T.tolist()))
    return series.times_s[shown].tolist(), drawn


def _listed(values: Array) -> list[float]:
    return [float(f"{value:.{DIGITS}g}") for value in values.tolist()]
