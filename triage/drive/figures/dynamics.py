"""What a whole drive does when the engine shakes or slows: natural frequencies, reversal, isolation."""

import math
from dataclasses import dataclass, replace

from triage.drive.figures.derived import UnknownFigureError, known
from triage.drive.figures.running import Running
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.arm import UnsteadyArmError
from triage.drive.mechanics.isolation import ISOLATION_LIMIT, spring_frequency, transmissibility
from triage.drive.mechanics.overrun import ROTOR_DRAG_NM, SPRINGLESS, reversal_deceleration
from triage.drive.mechanics.rotation import Rotor, Sprung, natural_frequencies
from triage.drive.mechanics.speeds import meeting_speed


@dataclass(frozen=True)
class Isolation:
    """What a spring pulley does with the engine's firing at idle.

    Args:
        spring_hz: natural frequency of the rotor on the pulley's spring [Hz].
        firing_hz: firing frequency at idle [Hz].
        ratio: firing over natural frequency [1].
        transmissibility: share of the shake that reaches the rotor, undamped; none at resonance [1].
        isolates: whether less comes through than goes in.
    """

    spring_hz: float
    firing_hz: float
    ratio: float
    transmissibility: float | None
    isolates: bool


def frequencies_of(drive: Drive, *, crank_held: bool) -> tuple[float, ...]:
    """Find the natural frequencies of a drive at rest, every pulley solid.

    Args:
        drive: drive with n pulleys.
        crank_held: whether the crank is kept from turning.

    Returns:
        n values, one more with a tensioner and one less with the crank held, ascending [Hz].

    Raises:
        UnknownFigureError: something that this needs is not given, or the arm has no stable place.

    Source: beikmann-1996
    """
    return _frequencies(_rotor(drive), crank_held=crank_held)


def fitted_frequencies_of(drive: Drive, *, crank_held: bool) -> tuple[float, ...]:
    """Find the natural frequencies of a drive at rest with the pulley that the alternator has, while it drives.

    A one-way clutch that drives is locked and counts as solid. A spring lets the rotor swing behind the ring.

    Args:
        drive: drive with n pulleys.
        crank_held: whether the crank is kept from turning.

    Returns:
        n values, one more each with a tensioner and with a spring, one less with the crank held, ascending [Hz].

    Raises:
        UnknownFigureError: something that this needs is not given, or the arm has no stable place.

    Source: beikmann-1996
    """
    rotor = _rotor(drive)
    position = drive.alternator
    member = None if position is None else drive.members[position]
    if position is not None and member is not None and member.pulley in ("isolator", "decoupler"):
        part = member.part
        sprung = Sprung(
            position,
            known(member.rim_kg_m2, f"the rim_inertia of {part}"),
            known(member.rotor_kg_m2, f"the rotor_inertia of {part}"),
            known(member.spring_nm_rad, f"the spring of the pulley of {part}"),
        )
        rotor = replace(rotor, sprung=sprung)
    return _frequencies(rotor, crank_held=crank_held)


def meeting_speeds_of(drive: Drive, *, crank_held: bool) -> tuple[float, ...]:
    """Say at which engine speed the firing meets each natural frequency of the drive with its own pulley: 2·f/z.

    Args:
        drive: drive with n pulleys.
        crank_held: whether the crank is kept from turning.

    Returns:
        one speed a frequency, ascending, the drive's turning as a whole left out [1/min].

    Raises:
        UnknownFigureError: something that this needs is not given.

    Source: common-practice
    """
    cylinders = known(drive.cylinders, "engine.cylinders")
    modes_hz = fitted_frequencies_of(drive, crank_held=crank_held)
    return tuple(60 * meeting_speed(mode_hz, cylinders) for mode_hz in modes_hz if mode_hz > 0)


def _rotor(drive: Drive) -> Rotor:
    inertias = tuple(known(member.inertia_kg_m2, f"the inertia of {member.part}") for member in drive.members)
    if drive.tensioner is not None and drive.arm is None:
        raise UnknownFigureError("The layout does not give pivot, arm_inertia and stiffness of the tensioner.")
    return Rotor(
        route=Running(drive, None).route,
        inertias_kg_m2=inertias,
        axial_stiffness_n=known(drive.stiffness_n, "belt.stiffness"),
        tension_n=known(drive.tension_n, "tension"),
        arm=drive.arm,
    )


def _frequencies(rotor: Rotor, *, crank_held: bool) -> tuple[float, ...]:
    try:
        return tuple(float(hertz) for hertz in natural_frequencies(rotor, crank_held=crank_held))
    except UnsteadyArmError as error:
        raise UnknownFigureError(str(error)) from error


def reversal_of(drive: Drive) -> float:
    """Say how fast the crank must slow for the alternator's torque to reverse.

    Args:
        drive: drive with n pulleys; the rotor's own inertia is taken where given, else that of all that turns.

    Returns:
        deceleration of the crank [rev/s²].

    Raises:
        UnknownFigureError: there is no alternator, or its torque or inertia is not given.

    Source: beikmann-1996
    """
    member = drive.members[_alternator(drive)]
    return _reversal(drive, known(member.load_nm, f"the torque of {member.part}"))


def unloaded_reversal_of(drive: Drive) -> float:
    """Say the same with the ignition off: the field is gone, and only the rotor's bearings hold it back.

    Args:
        drive: drive with n pulleys; the rotor's own inertia is taken where given, else that of all that turns.

    Returns:
        deceleration of the crank [rev/s²].

    Raises:
        UnknownFigureError: there is no alternator, or its inertia is not given.

    Source: beikmann-1996, from-memory
    """
    return _reversal(drive, ROTOR_DRAG_NM)


def _reversal(drive: Drive, load_nm: float) -> float:
    position = _alternator(drive)
    member = drive.members[position]
    inertia = member.rotor_kg_m2 if member.rotor_kg_m2 is not None else member.inertia_kg_m2
    return reversal_deceleration(
        load_nm, known(inertia, f"the inertia of {member.part}"), Running(drive, None).ratios[position]
    )


def isolation_of(drive: Drive) -> Isolation:
    """Compare the firing at idle with the alternator's rotor on its pulley's spring.

    Args:
        drive: drive with n pulleys.

    Returns:
        frequencies in [Hz] and what comes through.

    Raises:
        UnknownFigureError: there is no alternator, its pulley has no spring, or spring, rotor_inertia, cylinders or
            idle are not given.

    Source: grover
    """
    member = drive.members[_alternator(drive)]
    if member.spring_nm_rad is None and member.pulley in SPRINGLESS:
        raise UnknownFigureError(f"A {member.pulley} pulley has no spring.")
    spring = known(member.spring_nm_rad, f"the spring of the pulley of {member.part}")
    rotor = known(member.rotor_kg_m2, f"the rotor_inertia of {member.part}")
    firing_hz = Running(drive, known(drive.idle_rev_s, "engine.idle")).firing_hz
    spring_hz = spring_frequency(spring, rotor)
    passed = transmissibility(firing_hz, spring_hz)
    ratio = firing_hz / spring_hz
    return Isolation(spring_hz, firing_hz, ratio, passed if math.isfinite(passed) else None, ratio > ISOLATION_LIMIT)


def _alternator(drive: Drive) -> int:
    return known(drive.alternator, "an alternator among the pulleys")
