"""How a whole drive turns and how tight it is: ratios, rates, notes of spans, as far as its data go."""

from triage.drive.figures.unknown import UnknownFigureError, known
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics import speeds
from triage.drive.mechanics.geometry import Route
from triage.drive.mechanics.tension import span_note, tension_per_rib


def known_speed(crank_rev_s: float | None) -> float:
    """Insist on a speed of the crank.

    Args:
        crank_rev_s: speed of the crank, if any [rev/s].

    Returns:
        the speed [rev/s].

    Raises:
        UnknownFigureError: there is none.

    Source: common-practice
    """
    if crank_rev_s is None:
        raise UnknownFigureError("No speed was asked for and the layout does not give engine.idle.")
    return crank_rev_s


def known_route(drive: Drive) -> Route:
    """Insist on the belt's path.

    Args:
        drive: drive with n pulleys.

    Returns:
        n spans and wraps, lengths in [m], angles in [rad].

    Raises:
        UnknownFigureError: a pulley has no position.

    Source: common-practice
    """
    return known(drive.route, f"the position (at) of {', '.join(drive.unplaced)}")


def belt_length(drive: Drive) -> float:
    """Say how long the belt is along its cord: what the layout says, else the way round the pulleys.

    Args:
        drive: drive with n pulleys.

    Returns:
        pitch length [m].

    Raises:
        UnknownFigureError: neither belt.length nor all positions are given.

    Source: common-practice
    """
    if drive.belt_m is not None:
        return drive.belt_m
    if drive.route is None:
        raise UnknownFigureError("The layout gives neither belt.length nor the positions of all pulleys.")
    return drive.route.length_m


def ratios_of(drive: Drive) -> tuple[float, ...]:
    """Compare every pulley's speed with the crank's.

    Args:
        drive: drive with n pulleys.

    Returns:
        n speed ratios, pulley over crank, all positive [1].

    Source: shigley
    """
    crank_m = drive.members[0].pitch_m
    return tuple(speeds.turning_rate(1.0, crank_m, member.pitch_m) for member in drive.members)


def turns_of(drive: Drive, crank_rev_s: float | None) -> tuple[float, ...]:
    """Say how fast every pulley turns.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank, if any [rev/s].

    Returns:
        n speeds [rev/s].

    Raises:
        UnknownFigureError: there is no speed.

    Source: shigley
    """
    crank_rev_s = known_speed(crank_rev_s)
    return tuple(crank_rev_s * ratio for ratio in ratios_of(drive))


def speed_of_belt(drive: Drive, crank_rev_s: float | None) -> float:
    """Say how fast the belt runs.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank, if any [rev/s].

    Returns:
        belt speed [m/s].

    Raises:
        UnknownFigureError: there is no speed.

    Source: shigley
    """
    return speeds.belt_speed(known_speed(crank_rev_s), drive.members[0].pitch_m)


def laps_of(drive: Drive, crank_rev_s: float | None) -> float:
    """Say how often one spot of the belt comes round.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank, if any [rev/s].

    Returns:
        laps per second [Hz].

    Raises:
        UnknownFigureError: speed or belt length is unknown.

    Source: common-practice
    """
    return speeds.lap_rate(known_speed(crank_rev_s), drive.members[0].pitch_m, belt_length(drive))


def firings_of(drive: Drive, crank_rev_s: float | None) -> float:
    """Say how often the engine fires.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank, if any [rev/s].

    Returns:
        firings per second of a four-stroke engine [Hz].

    Raises:
        UnknownFigureError: speed or number of cylinders is unknown.

    Source: common-practice
    """
    return speeds.firing_rate(known_speed(crank_rev_s), known(drive.cylinders, "engine.cylinders"))


def span_notes(drive: Drive, crank_rev_s: float | None) -> tuple[float, ...]:
    """Say at which note every span sounds at its tension at rest, while the belt runs.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank, if any; zero for a standing belt [rev/s].

    Returns:
        n lowest notes [Hz].

    Raises:
        UnknownFigureError: path, tension, mass or speed is unknown, or the belt runs too fast to have a note.

    Source: from-memory
    """
    route = known_route(drive)
    tension_n = known(drive.tension_n, "tension")
    mass_kg_m = known(drive.mass_kg_m, "belt.mass_per_metre")
    belt_m_s = speed_of_belt(drive, crank_rev_s)
    try:
        return tuple(span_note(tension_n, mass_kg_m, span.length_m, belt_m_s) for span in route.spans)
    except ValueError as error:
        raise UnknownFigureError(str(error)) from error


def rib_tension(drive: Drive) -> float:
    """Share the tension at rest among the belt's ribs.

    Args:
        drive: drive with n pulleys.

    Returns:
        tension of one rib [N].

    Raises:
        UnknownFigureError: tension or number of ribs is not given.

    Source: common-practice
    """
    return tension_per_rib(known(drive.tension_n, "tension"), known(drive.ribs, "belt.ribs"))


def repeat_rates(drive: Drive, crank_rev_s: float) -> dict[str, float]:
    """List what comes round how often at one speed, to compare a chirp with.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank [rev/s].

    Returns:
        rates by name: every part, and lap and firing where their data are known [Hz].

    Source: common-practice
    """
    rates = dict(zip((member.part for member in drive.members), turns_of(drive, crank_rev_s), strict=True))
    for name, rate in (("lap", laps_of), ("firing", firings_of)):
        try:
            rates[name] = rate(drive, crank_rev_s)
        except UnknownFigureError:
            continue
    return rates
