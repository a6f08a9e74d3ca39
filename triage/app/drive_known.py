"""What a layout comes to: asked of the mechanics, handed over as rounded figures.

The one place in a session from where the mechanics are loaded, and only when a layout is used.
"""

import math
from typing import TYPE_CHECKING

from triage.drive.figures.running import repeat_rates
from triage.drive.figures.unsure import unsure_rates
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.mechanics.geometry import BeltRouteError
from triage.errors import CommandRefused
from triage.knowledge.models import PULLEY_TYPES, PulleyType
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown, FreeSpan, Spring, Weakest
from triage.session.rules.driving import rounded
from triage.units import standard_uncertainty

if TYPE_CHECKING:
    from triage.drive.figures.drive_figures import DriveFigures
    from triage.drive.figures.dynamics import Isolation
    from triage.units import Quantity


def rate_uncertainty_hz(counted: "Quantity", speed: "Quantity | None") -> float:
    """Standard uncertainty of a counted rate, that of the engine speed meanwhile included; None is no uncertainty."""
    relative = standard_uncertainty(speed.spread) / speed.value if speed else 0.0
    return math.hypot(standard_uncertainty(counted.spread), counted.value * relative)


def known_of(layout: Layout) -> DriveKnown:
    """What a layout comes to at its idle, rounded as it is recorded.

    Raises:
        CommandRefused: the belt cannot run over these pulleys.
    """
    drive, figures = worked_out(layout)
    reversal, unloaded = figures.reversal_rpm_per_s.value, figures.unloaded_reversal_rpm_per_s.value
    slowing = {pulley: _weakest(drive, figures, "slowing", pulley) for pulley in PULLEY_TYPES}
    alternator = {pulley: _at_alternator(drive, figures, pulley) for pulley in PULLEY_TYPES}
    return DriveKnown(
        idle_rpm=None if figures.rpm is None else rounded(figures.rpm),
        pitch_m={member.part: rounded(member.pitch_m) for member in drive.members},
        pitch_spread_m={
            member.part: rounded(member.pitch_spread_m) for member in drive.members if member.pitch_spread_m
        },
        repeats={name: rounded(times) for name, times in repeat_rates(drive, 1.0).items()},
        repeats_u={name: rounded(width) for name, width in unsure_rates(drive, 1.0).items() if width},
        steady=_weakest(drive, figures, "steady", "solid"),
        slowing={pulley: weakest for pulley, weakest in slowing.items() if weakest},
        alternator={pulley: own for pulley, own in alternator.items() if own},
        slowing_rpm_per_s=rounded(figures.slowing_rpm_per_s),
        reversal_rpm_per_s=None if reversal is None else rounded(reversal),
        unloaded_reversal_rpm_per_s=None if unloaded is None else rounded(unloaded),
        rotor_kg_m2=_rotor(drive),
        slack_span=figures.slack_span.value or (),
        warnings=figures.warnings,
        longest=_longest(drive, figures),
        spring=_spring(figures.isolation.value),
        reasons=_reasons(figures),
        assumed=figures.assumed,
    )


def _rotor(drive: "Drive") -> float | None:
    if drive.alternator is None:
        return None
    inertia = drive.members[drive.alternator].rotor_kg_m2
    return None if inertia is None else rounded(inertia)


def _reasons(figures: "DriveFigures") -> dict[str, str]:
    """Why what is recorded of a drive is unknown, by the names under which it is recorded."""
    recorded = {
        "steady": figures.grip_used["steady"]["solid"].reason,
        "slowing": figures.grip_used["slowing"]["solid"].reason,
        "reversal": figures.reversal_rpm_per_s.reason,
        "spring": figures.isolation.reason,
        "longest": figures.spans_m.reason,
    }
    return {name: reason for name, reason in recorded.items() if reason}


def _longest(drive: "Drive", figures: "DriveFigures") -> FreeSpan | None:
    spans_m, unsure_m = figures.spans_m.value, figures.spans_m.uncertainty
    if spans_m is None:
        return None
    place = spans_m.index(max(spans_m))
    notes_hz = figures.span_standing_hz.value
    note_hz = rounded(notes_hz[place]) if notes_hz else None
    spread_m = rounded(unsure_m[place] * math.sqrt(3)) if unsure_m and unsure_m[place] < math.inf else 0.0
    ends = drive.members[place].part, drive.members[(place + 1) % len(drive.members)].part
    return FreeSpan(
        start=ends[0], end=ends[1], length_m=rounded(spans_m[place]), note_hz=note_hz, spread_m=rounded(spread_m)
    )


def _spring(isolation: "Isolation | None") -> Spring | None:
    if isolation is None:
        return None
    rotor_hz, firing_hz = rounded(isolation.spring_hz), rounded(isolation.firing_hz)
    return Spring(rotor_hz=rotor_hz, firing_hz=firing_hz, isolates=isolation.isolates)


def _weakest(drive: "Drive", figures: "DriveFigures", state: str, pulley: PulleyType) -> Weakest | None:
    """The wrap that uses most of its grip where torque is passed: what only turns along needs none to speak of."""
    shares = figures.grip_used[state][pulley].value
    if shares is None:
        return None
    passing = [
        position for position, member in enumerate(drive.members) if member.load_nm or position in (0, drive.alternator)
    ]
    return _wrap(figures, state, pulley, max(passing, key=lambda position: shares[position]))


def _at_alternator(drive: "Drive", figures: "DriveFigures", pulley: PulleyType) -> Weakest | None:
    if figures.grip_used["slowing"][pulley].value is None or drive.alternator is None:
        return None
    return _wrap(figures, "slowing", pulley, drive.alternator)


def _wrap(figures: "DriveFigures", state: str, pulley: PulleyType, position: int) -> Weakest:
    used, needed = figures.grip_used[state][pulley], figures.slips_below_friction[state][pulley]
    margins = figures.slip_margin[state][pulley].value
    share = used.value[position] if used.value else math.inf
    width = used.uncertainty[position] if used.uncertainty else 0.0
    return Weakest(
        part=figures.parts[position],
        margin=rounded(margins[position]) if margins else 0.0,
        used=rounded(share) if share < math.inf else None,
        used_u=rounded(width) if width < math.inf else 0.0,
        slips_below=rounded(needed.value[position]) if needed.value and share < math.inf else None,
    )


def worked_out(layout: Layout) -> "tuple[Drive, DriveFigures]":
    """The drive of a layout, and its figures.

    Raises:
        CommandRefused: the belt cannot run over these pulleys.
    """
    from triage.drive.figures.all_figures import figures_of

    try:
        drive = assemble(layout)
    except BeltRouteError as error:
        raise CommandRefused(f"The belt cannot run over this layout: {error}", "Mend the layout's file.") from error
    return drive, figures_of(drive)
