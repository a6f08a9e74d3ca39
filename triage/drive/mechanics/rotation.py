"""Rotational natural frequencies of a belt drive at rest: pulleys as inertias, spans as springs, a tensioner arm.

Every pulley turns in its own direction of belt travel, so signs of rotation drop out. With θ for pulleys and a for the
arm, span i from pulley i to the next stretches by s = r_j·θ_j − r_i·θ_i + g_i·a, and
V = Σ (P·s + (EA/l)·s²/2) + k·a²/2, with the arm's spring preload balancing the tension. Friction and damping are left
out, which moves natural frequencies little. The belt neither bends nor slips.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from triage.drive.mechanics.arm import Arm, UnsteadyArmError, arm_motion, arm_spans
from triage.drive.mechanics.geometry import BeltPath

Array = npt.NDArray[np.float64]
RIGID_SHARE = 1e-12
"""Eigenvalues below this share of the largest are the free turning of the whole drive, left over by rounding."""


@dataclass(frozen=True)
class Sprung:
    """A pulley whose rotor hangs on a spring behind its ring."""

    pulley: int
    rim_kg_m2: float
    rotor_kg_m2: float
    stiffness_nm_rad: float


@dataclass(frozen=True)
class Rotor:
    """A drive as it is for small rotations about rest."""

    route: BeltPath
    inertias_kg_m2: tuple[float, ...]
    axial_stiffness_n: float
    tension_n: float
    arm: Arm | None = None
    sprung: Sprung | None = None


def stretch_matrix(rotor: Rotor) -> Array:
    """Say how much each span stretches for a unit turn of each pulley and of the arm.

    Args:
        rotor: drive with n pulleys.

    Returns:
        shape (n, n) or with an arm (n, n + 1), one row a span, columns in pulley order and the arm last [m/rad].

    Source: beikmann-1996
    """
    circles = rotor.route.circles
    count = len(circles)
    stretch = np.zeros((count, count + (rotor.arm is not None)))
    for span in range(count):
        following = (span + 1) % count
        stretch[span, following] += circles[following].radius_m
        stretch[span, span] -= circles[span].radius_m
    if rotor.arm:
        for span, sign in arm_spans(rotor.route, rotor.arm):
            along, _ = arm_motion(rotor.route, rotor.arm, span)
            stretch[span, count] = sign * along
    return stretch


def stiffness_matrix(rotor: Rotor) -> Array:
    """Build the second derivative of the potential at rest, with what the spans' tension does to the arm.

    Args:
        rotor: drive with n pulleys.

    Returns:
        shape (n, n) or with an arm (n + 1, n + 1), symmetric, pulleys in order and the arm last [N·m/rad].

    Source: beikmann-1996
    """
    stretch = stretch_matrix(rotor)
    per_span = np.array([rotor.axial_stiffness_n / span.length_m for span in rotor.route.spans])
    # Σ over spans of (EA/l)·(∂s/∂q)(∂s/∂q)ᵀ; the tension adds to the arm alone, whose motion turns the spans.
    stiffness: Array = stretch.T @ (per_span[:, None] * stretch)
    if rotor.arm:
        stiffness[-1, -1] += rotor.arm.stiffness_nm_rad + _geometric_stiffness(rotor, rotor.arm)
    return stiffness


def natural_frequencies(rotor: Rotor, *, crank_held: bool = False) -> Array:
    """Find at which frequencies the drive would ring after a knock.

    Args:
        rotor: drive with n pulleys, the crank first.
        crank_held: whether the crank is kept from turning, as a heavy engine nearly does.

    Returns:
        shape (n,), one more each with an arm and with a sprung rotor, one less with the crank held, ascending, the free
        turning of the whole drive as zero [Hz].

    Raises:
        UnsteadyArmError: the arm has no stable place where the layout puts it.

    Source: beikmann-1996
    """
    inertias = [*rotor.inertias_kg_m2] + ([rotor.arm.inertia_kg_m2] if rotor.arm else [])
    stiffness = stiffness_matrix(rotor)
    if rotor.sprung:
        stiffness = _with_rotor(stiffness, rotor.sprung)
        inertias[rotor.sprung.pulley] = rotor.sprung.rim_kg_m2
        inertias.append(rotor.sprung.rotor_kg_m2)
    # Angles scaled by √J turn K·x = ω²·J·x into a symmetric problem, whose eigenvalues are real and come sorted.
    scale = 1 / np.sqrt(np.array(inertias))
    dynamic = stiffness * np.outer(scale, scale)
    # A pulley that cannot turn has neither row nor column.
    if crank_held:
        dynamic = dynamic[1:, 1:]
    squares = np.linalg.eigvalsh(dynamic)
    squares[np.abs(squares) < RIGID_SHARE * squares[-1]] = 0
    if squares[0] < 0:
        raise UnsteadyArmError("The tensioner arm would not stay where the layout puts it.")
    frequencies: Array = np.sqrt(squares) / (2 * np.pi)
    return frequencies


def _with_rotor(stiffness: Array, sprung: Sprung) -> Array:
    # The rotor comes last; its spring pulls ring and rotor together.
    ring, last = sprung.pulley, len(stiffness)
    wider = np.pad(stiffness, (0, 1))
    wider[ring, ring] += sprung.stiffness_nm_rad
    wider[last, last] += sprung.stiffness_nm_rad
    wider[ring, last] -= sprung.stiffness_nm_rad
    wider[last, ring] -= sprung.stiffness_nm_rad
    return wider


def _geometric_stiffness(rotor: Rotor, arm: Arm) -> float:
    # d(u·v)/da: the span swings by (v·n)/l as the pulley moves across it, and v itself turns towards the pivot.
    circle = rotor.route.circles[arm.pulley]
    towards_pivot = arm.pivot[0] - circle.x_m, arm.pivot[1] - circle.y_m
    total = 0.0
    for span, sign in arm_spans(rotor.route, arm):
        run = rotor.route.spans[span]
        _, across = arm_motion(rotor.route, arm, span)
        inward = np.cos(run.heading_rad) * towards_pivot[0] + np.sin(run.heading_rad) * towards_pivot[1]
        total += rotor.tension_n * (across**2 / run.length_m + sign * float(inward))
    return total
