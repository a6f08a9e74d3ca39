"""The note of every span of a drive, standing and running, from the one model of tension."""

from dataclasses import replace

from triage.drive.figures.derived import UnknownFigureError, known
from triage.drive.figures.running import Running
from triage.drive.figures.tensions import balance_of, pulled_by
from triage.drive.mechanics.span_note import span_note


def tensions_of(running: Running) -> tuple[float, ...]:
    """Find the tension of every span while the crank keeps its speed; at none, at rest.

    Where no part is said to take torque the belt runs without load, and the layout's assumptions say so.

    Args:
        running: drive with n pulleys at a speed of its crank.

    Returns:
        n tensions; nothing where a span goes slack [N].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: beikmann-1996
    """
    if running.rev_s == 0:
        return (known(running.drive.tension_n, "tension"),) * len(running.route.spans)
    drive = running.drive
    if not any(member.load_nm for member in drive.members):
        members = tuple(replace(member, load_nm=0.0) for member in drive.members)
        running = replace(running, drive=replace(drive, members=members))
    balance = balance_of(running, pulled_by(running, "solid", 0.0))
    return tuple(max(tension_n, 0.0) for tension_n in balance.tensions_n)


def span_notes(running: Running) -> tuple[float, ...]:
    """Find the lowest note of every span: standing at rest, or running under its load.

    Args:
        running: drive with n pulleys at a speed of its crank.

    Returns:
        n notes [Hz].

    Raises:
        UnknownFigureError: something that this needs is not given, or a span has no note.

    Source: from-memory
    """
    mass_kg_m, belt_m_s = known(running.drive.mass_kg_m, "belt.mass_per_metre"), running.belt_m_s
    pairs = zip(tensions_of(running), running.route.spans, strict=True)
    try:
        return tuple(span_note(tension_n, mass_kg_m, span.length_m, belt_m_s) for tension_n, span in pairs)
    except ValueError as error:
        raise UnknownFigureError(str(error)) from error
