"""Everything that `triage drive` says about a drive, worked out from its data, each figure as far as they go."""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from triage.drive.figures.derived import Derived, derived
from triage.drive.figures.drive_figures import BY_TYPE, MOVING, ByType, DriveFigures, List
from triage.drive.figures.dynamics import (
    fitted_frequencies_of,
    frequencies_of,
    isolation_of,
    meeting_speeds_of,
    reversal_of,
    unloaded_reversal_of,
)
from triage.drive.figures.notes import span_notes, tensions_of
from triage.drive.figures.running import Running
from triage.drive.figures.slip_margins import frictions_needed, grip_by_arm, grip_used, slip_margins
from triage.drive.figures.tensioning import tensioner_warnings, tensioning_of
from triage.drive.figures.unsure import moved, unsure
from triage.drive.layout.assembly import Drive
from triage.drive.layout.direction import TURN_NAMES
from triage.knowledge.models import PULLEY_TYPES, PulleyType

USUAL_SLOWING_REV_S2 = 2000 / 60
"""Crank deceleration where none is asked for: from 2000 r/min to nothing in a second; from memory."""

States = dict[str, float]
"""States of the engine by name, with the rate at which its crank loses speed."""


def figures_of(
    drive: Drive,
    crank_rev_s: float | None = None,
    slowing_rev_s2: float = USUAL_SLOWING_REV_S2,
    gaining_rev_s2: float | None = None,
) -> DriveFigures:
    """Work out all that a drive's data allow.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank; idle where none is given [rev/s].
        slowing_rev_s2: rate at which the crank loses speed, for the grip while slowing [rev/s²].
        gaining_rev_s2: rate at which it gains speed, for the grip while speeding up; none is not asked [rev/s²].

    Returns:
        figures with n values in every list, those that stay unknown with their reasons.

    Source: beikmann-1996, khurmi, iso-9981
    """
    crank_rev_s = drive.idle_rev_s if crank_rev_s is None else crank_rev_s
    states = {"steady": 0.0, "slowing": slowing_rev_s2}
    if gaining_rev_s2 is not None:
        states["speeding"] = -gaining_rev_s2
    figures = _figures(drive, crank_rev_s, states)
    ends = moved(drive, lambda other: _figures(other, crank_rev_s, states))
    changes: dict[str, Any] = {
        name: unsure(getattr(figures, name), [(getattr(up, name), getattr(down, name)) for up, down in ends])
        for name in MOVING
    }
    for name in BY_TYPE:
        changes[name] = {
            state: {
                pulley: unsure(
                    one, [(getattr(up, name)[state][pulley], getattr(down, name)[state][pulley]) for up, down in ends]
                )
                for pulley, one in by_type.items()
            }
            for state, by_type in getattr(figures, name).items()
        }
    return replace(figures, **changes)


def _figures(drive: Drive, crank_rev_s: float | None, states: States) -> DriveFigures:
    running, standing = Running(drive, crank_rev_s), Running(drive, 0.0)
    parts = tuple(member.part for member in drive.members)
    tensioner = derived(lambda: tensioning_of(running))
    fitted, held = (derived(partial(fitted_frequencies_of, drive, crank_held=one)) for one in (False, True))
    return DriveFigures(
        parts=parts,
        turns=derived(lambda: TURN_NAMES[running.route.turns[0]]),
        slack_span=derived(lambda: _slack_span(running)),
        rpm=None if crank_rev_s is None else crank_rev_s * 60,
        slowing_rpm_per_s=states["slowing"] * 60,
        spans_m=derived(lambda: tuple(span.length_m for span in running.route.spans)),
        wraps_deg=derived(lambda: tuple(math.degrees(wrap) for wrap in running.route.wraps_rad)),
        belt_length_m=derived(lambda: running.belt_m),
        ratios=Derived(running.ratios),
        turns_per_s=derived(lambda: running.turns_per_s),
        lap_per_s=derived(lambda: running.lap_hz),
        belt_speed_m_s=derived(lambda: running.belt_m_s),
        firing_hz=derived(lambda: running.firing_hz),
        span_hz=derived(lambda: span_notes(running)),
        span_standing_hz=derived(lambda: span_notes(standing)),
        span_tension_n=derived(lambda: tensions_of(running)),
        rib_tension_n=derived(lambda: running.rib_tension_n),
        tensioner=tensioner,
        slip_margin=_by_type(slip_margins, running, states),
        grip_used=_by_type(grip_used, running, states),
        slips_below_friction=_by_type(frictions_needed, running, states),
        grip_used_arm_held=derived(lambda: grip_by_arm(running)[0]),
        grip_used_arm_pressed=derived(lambda: grip_by_arm(running)[1]),
        reversal_rpm_per_s=derived(lambda: reversal_of(drive) * 60),
        unloaded_reversal_rpm_per_s=derived(lambda: unloaded_reversal_of(drive) * 60),
        natural_hz=derived(lambda: frequencies_of(drive, crank_held=False)),
        natural_crank_held_hz=derived(lambda: frequencies_of(drive, crank_held=True)),
        natural_fitted_hz=fitted,
        natural_fitted_crank_held_hz=held,
        firing_meets_rpm=derived(lambda: meeting_speeds_of(drive, crank_held=False)),
        firing_meets_crank_held_rpm=derived(lambda: meeting_speeds_of(drive, crank_held=True)),
        isolation=derived(lambda: isolation_of(drive)),
        warnings=tensioner_warnings(drive, tensioner.value),
        assumed=(*drive.assumed, *_torques_kept(drive, crank_rev_s)),
    )


def _slack_span(running: Running) -> tuple[str, ...]:
    # What every pulley takes adds to the belt's pull, so the span that leaves the crank has the least of it.
    return tuple(running.drive.members[position].part for position in range(len(running.route.spans[:2])))


def _by_type(
    answer: Callable[[Running, PulleyType, float], tuple[float, ...]], running: Running, states: States
) -> ByType:
    return {
        state: {pulley: _typed(answer, running, pulley, rate) for pulley in PULLEY_TYPES}
        for state, rate in states.items()
    }


def _typed(
    answer: Callable[[Running, PulleyType, float], tuple[float, ...]], running: Running, pulley: PulleyType, rate: float
) -> List:
    return derived(lambda: answer(running, pulley, rate))


def _torques_kept(drive: Drive, crank_rev_s: float | None) -> tuple[str, ...]:
    if crank_rev_s in (None, 0.0, drive.idle_rev_s) or not any(member.load_nm for member in drive.members):
        return ()
    return ("Torques are taken as the layout gives them, whatever the speed.",)
