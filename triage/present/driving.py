"""The drive at hand in a session: its layout taken in, its account as a page, a counted rate compared.

The one place in a session from where the mechanics are loaded, and only when a layout is used.
"""

import math
from typing import TYPE_CHECKING

from triage.drive.bay.formula import standard_uncertainty
from triage.drive.layout.shipped import layout_file
from triage.drive.pages.figures_page import WIDTH, account
from triage.errors import CommandRefused, QuantityRefused
from triage.knowledge.models import PULLEY_TYPES, Knowledge, PulleyType
from triage.present.correcting import Stamp
from triage.present.drive_facts import contradiction
from triage.present.results import Ask, Result
from triage.record.layout import Layout
from triage.record.layouts import DriveKnown, FreeSpan, Spring, Weakest
from triage.session import commands as c
from triage.session.rules.driving import rounded
from triage.session.state import State
from triage.units import parse_quantity, say_back

if TYPE_CHECKING:
    from triage.drive.figures.all_figures import DriveFigures
    from triage.drive.figures.dynamics import Isolation
    from triage.drive.layout.assembly import Drive

WHICH_LAYOUT = "Which layout? Give its file, or the name of one that came with the program."
NO_LAYOUT = 'There is no layout of this vehicle\'s drive. Type "layout" and name one.'


def layout_taken(_knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which layout, then the command to use it.

    Raises:
        TriageError: there is no such layout, or it has faults.
    """
    if not lines:
        return Ask(WHICH_LAYOUT)
    file = layout_file(lines[0].strip())
    from triage.drive.layout.placement import read_layout

    layout = read_layout(file)
    known = known_of(layout).model_copy(update={"against": contradiction(layout, state.facts)})
    return c.UseLayout(at_ms=stamp[0], who=stamp[1], layout=layout, name=file.stem, known=known)


def rate_compared(_knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """The rate with its spread, then the engine speed, then the command to compare.

    Raises:
        TriageError: there is no layout, or a figure cannot be.
    """
    if state.layout is None:
        raise CommandRefused("There is no layout to compare a rate with.", 'Type "layout" and name one first.')
    if not lines:
        return Ask("How often does it come, and how sure is that? Such as 3.3 ± 0.1 Hz.")
    counted = parse_quantity(lines[0], "frequency")
    if not counted.spread or counted.value <= 0:
        raise QuantityRefused("That does not say how sure it is.", "Type it with its spread, such as 3.3 ± 0.1 Hz.")
    idle = state.layout.known.idle_rpm
    if len(lines) == 1:
        usual = f', or "idle" ({idle:.0f} r/min)' if idle else ""
        return Ask(f"{say_back(counted)}. At which engine speed? Type it{usual}.")
    crank_rpm, relative = _speed(lines[1], idle)
    uncertainty_hz = math.hypot(standard_uncertainty(counted.spread), counted.value * relative)
    return c.CompareRate(
        at_ms=stamp[0],
        who=stamp[1],
        text=say_back(counted),
        rate_hz=counted.value,
        uncertainty_hz=uncertainty_hz,
        crank_rpm=crank_rpm,
    )


def _speed(line: str, idle_rpm: float | None) -> tuple[float, float]:
    """Engine speed, and its standard uncertainty over it."""
    if idle_rpm is not None and line.strip().lower() == "idle":
        return idle_rpm, 0.0
    speed = parse_quantity(line, "speed")
    if speed.value <= 0:
        raise QuantityRefused("Nothing comes round while the engine stands.", "Type the speed while it was counted.")
    return speed.value * 60, standard_uncertainty(speed.spread) / speed.value


def drive_page(_knowledge: Knowledge, state: State, columns: int = WIDTH) -> list[str]:
    """Drawing and figures of this vehicle's drive, on lines of at most `columns` characters."""
    if state.layout is None:
        return [NO_LAYOUT]
    return layout_page(state.layout.name, state.layout.layout, columns)


def layout_page(name: str, layout: Layout, columns: int = WIDTH) -> list[str]:
    """Drawing and figures of a drive, on lines of at most `columns` characters.

    Raises:
        CommandRefused: the belt cannot run over these pulleys.
    """
    drive, figures = _worked_out(layout)
    return [f"Layout: {name}", *account(drive, figures, columns).splitlines()]


def known_of(layout: Layout) -> DriveKnown:
    """What a layout comes to at its idle, rounded as it is recorded.

    Raises:
        CommandRefused: the belt cannot run over these pulleys.
    """
    from triage.drive.figures.running import repeat_rates
    from triage.drive.figures.unsure_diameters import unsure_rates

    drive, figures = _worked_out(layout)
    reversal = figures.reversal_rpm_per_s.value
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
        longest=_longest(drive, figures),
        spring=_spring(figures.isolation.value),
        reasons=_reasons(figures),
        assumed=figures.assumed,
    )


def _reasons(figures: "DriveFigures") -> dict[str, str]:
    """Why what is recorded of a drive is unknown, by the names under which it is recorded."""
    recorded = {
        "steady": figures.slip_margin["steady"]["solid"].reason,
        "slowing": figures.slip_margin["slowing"]["solid"].reason,
        "reversal": figures.reversal_rpm_per_s.reason,
        "spring": figures.isolation.reason,
        "longest": figures.spans_m.reason,
    }
    return {name: reason for name, reason in recorded.items() if reason}


def _longest(drive: "Drive", figures: "DriveFigures") -> FreeSpan | None:
    from triage.drive.figures.derived import derived
    from triage.drive.figures.running import Running

    spans_m, unsure_m = figures.spans_m.value, figures.spans_m.uncertainty
    if spans_m is None:
        return None
    place = spans_m.index(max(spans_m))
    notes_hz = derived(lambda: Running(drive, 0.0).span_hz).value
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


def _weakest(drive: "Drive", figures: "DriveFigures", case: str, pulley: PulleyType) -> Weakest | None:
    """The lowest margin where torque is passed: a pulley that only turns along needs no grip to speak of."""
    margins = figures.slip_margin[case][pulley].value
    if margins is None:
        return None
    margin, part = min(
        (margin, member.part)
        for position, (margin, member) in enumerate(zip(margins, drive.members, strict=True))
        if member.load_nm or position in (0, drive.alternator)
    )
    return Weakest(part=part, margin=rounded(margin))


def _at_alternator(drive: "Drive", figures: "DriveFigures", pulley: PulleyType) -> Weakest | None:
    margins = figures.slip_margin["slowing"][pulley].value
    if margins is None or drive.alternator is None:
        return None
    return Weakest(part=figures.parts[drive.alternator], margin=rounded(margins[drive.alternator]))


def _worked_out(layout: Layout) -> "tuple[Drive, DriveFigures]":
    from triage.drive.figures.all_figures import figures_of
    from triage.drive.layout.assembly import assemble
    from triage.drive.mechanics.geometry import BeltRouteError

    try:
        drive = assemble(layout)
    except BeltRouteError as error:
        raise CommandRefused(f"The belt cannot run over this layout: {error}", "Mend the layout's file.") from error
    return drive, figures_of(drive)
