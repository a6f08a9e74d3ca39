"""What a drive does in an event, for one pulley or for all that it might have: the one door to the simulation."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from triage.drive.figures.derived import UnknownFigureError, known
from triage.drive.layout.assembly import Drive
from triage.drive.motion.events import EVENTS, LONGEST_S, Event, EventKind, Wish
from triage.drive.motion.figures import Figures, Series, Watch
from triage.drive.motion.laws.crank import Ripple
from triage.drive.motion.machine import FAULTS, Machine, Variant, build_machine
from triage.drive.motion.parameters import Parameters
from triage.drive.motion.running import UnsettledError, carried, step_for
from triage.drive.motion.signs import signs
from triage.errors import TriageError
from triage.knowledge.models import PULLEY_TYPES, PulleyType

USUAL_RIPPLE_RAD = math.radians(1)
"""Shake of a crank by its firings at idle, zero to peak; from memory."""
NARROWER = 3
"""How often a step is halved for a drive that is too stiff for it, before the drive is refused."""
MOST_RPM, LEAST_RPM = 12000.0, 60.0
"""Speeds of a crank that are taken; from memory."""

OVERRUNNING, SPRUNG = ("one-way-clutch", "decoupler"), ("isolator", "decoupler")
NEEDED: dict[str, tuple[str, ...]] = {
    "binding": OVERRUNNING,
    "seized": OVERRUNNING,
    "slipping": OVERRUNNING,
    "no-drive": OVERRUNNING,
    "spring-broken": SPRUNG,
    "rusted-solid": ("isolator", *OVERRUNNING),
}
"""Types of pulley that can have a fault, where not all can."""
OF_THE_ARM = ("weak-tensioner", "no-damping")
COMPARED = ("seized", "rusted-solid", "slipping", "spring-broken", "weak-tensioner", "no-damping", "grip-lost")
"""Faults that stand beside the four types in a comparison."""

USUAL_WISH = Wish()
"""Nothing asked for otherwise than usual."""

Progress = Callable[[float], None]


@dataclass(frozen=True)
class Question:
    """What is asked of a drive.

    Args:
        kind: which event.
        wish: what is asked of it otherwise than usual.
        ripple_rad: shake of the crank at idle, zero to peak.
        variants: what is tried.
    """

    kind: EventKind
    variants: tuple[Variant, ...]
    wish: Wish = USUAL_WISH
    ripple_rad: float = USUAL_RIPPLE_RAD


@dataclass(frozen=True)
class Answer:
    """What came out.

    Args:
        machine: what was run, with its variants.
        event: what happened to it.
        figures: one for each variant, in their order.
        series: how it went.
        step_s: width of the steps.
    """

    machine: Machine
    event: Event
    figures: tuple[Figures, ...]
    series: Series
    step_s: float


def fitted(drive: Drive) -> PulleyType:
    """The pulley that the layout gives the alternator; a solid one where it gives none."""
    if drive.alternator is None:
        return "solid"
    return drive.members[drive.alternator].pulley or "solid"


def compared(drive: Drive, parameters: Parameters) -> tuple[tuple[Variant, ...], tuple[str, ...]]:
    """Choose what stands side by side: four types, then the faults that the fitted pulley, arm and belt can have.

    Returns:
        the variants, and a sentence for each that the layout does not say enough for.
    """
    pulley = fitted(drive)
    wanted = [Variant(one) for one in (PULLEY_TYPES if drive.alternator is not None else (pulley,))]
    wanted += [Variant(pulley, fault) for fault in COMPARED if not hindrance(drive, Variant(pulley, fault))]
    taken, left = [], []
    for variant in wanted:
        try:
            build_machine(drive, parameters, (variant,))
        except UnknownFigureError as unknown:
            left.append(f"Left out: {said(variant)}. {unknown.reason}")
        else:
            taken.append(variant)
    return tuple(taken), tuple(dict.fromkeys(left))


def hindrance(drive: Drive, variant: Variant) -> str:
    """Say in one sentence why a variant cannot be; "" where it can."""
    fault, pulley = variant.fault, variant.pulley
    if drive.alternator is None and (pulley != "solid" or fault in NEEDED):
        return "The layout has no alternator, so there is no pulley type to try."
    if fault in NEEDED and pulley not in NEEDED[fault]:
        return f"A {pulley} pulley cannot have the fault {fault}: {', '.join(NEEDED[fault])} can."
    if fault in OF_THE_ARM and drive.arm is None:
        return f"The layout has no tensioner with an arm, so the fault {fault} cannot be tried."
    return ""


def said(variant: Variant) -> str:
    """A variant in words."""
    return f"{variant.pulley}, {FAULTS[variant.fault]}" if variant.fault else f"{variant.pulley} pulley"


def simulate(drive: Drive, parameters: Parameters, question: Question, progress: Progress | None = None) -> Answer:
    """Carry a drive through an event.

    Args:
        drive: in running direction.
        parameters: what a simulation needs beside it.
        question: what is asked.
        progress: told again and again how much is done, from 0 to 1; whatever it raises stops the work [1].

    Returns:
        the answer.

    Raises:
        TriageError: it cannot be, or the layout does not say enough; the sentence says what.

    Source: acary-2008, beikmann-1996
    """
    for variant in question.variants:
        reason = hindrance(drive, variant)
        if reason:
            raise TriageError(reason, "Try another pulley or fault.")
    try:
        machine = build_machine(drive, parameters, question.variants)
        event = _event(drive, parameters, question, machine)
    except UnknownFigureError as unknown:
        raise TriageError(
            unknown.reason, "Add it to the layout; the table of keys is in docs/mechanics.md."
        ) from unknown
    _refuse_absurd(event)
    step_s = step_for(event, parameters.ripple_order or 1.0)
    for _ in range(NARROWER):
        try:
            return _run(machine, event, step_s, progress)
        except UnsettledError:
            step_s /= 2
    raise TriageError(
        "This drive is too stiff or too light for the steps that I take, so I give no figures.",
        "Look for a wrong unit: belt.stiffness, inertias, springs and their damping.",
    )


def _run(machine: Machine, event: Event, step_s: float, progress: Progress | None) -> Answer:
    watch = Watch(machine, event, step_s)
    for stretch in carried(machine, event, step_s):
        watch.take(stretch)
        if progress is not None:
            progress(min(1.0, float(stretch.ends_s[-1]) / event.seconds))
    return Answer(machine, event, watch.figures(), watch.series(), step_s)


def _event(drive: Drive, parameters: Parameters, question: Question, machine: Machine) -> Event:
    idle = known(drive.idle_rev_s, "engine.idle") * math.tau
    order = parameters.ripple_order
    if order is None and (question.ripple_rad or question.kind == "switch-off"):
        order = known(None, "engine.cylinders, which the firings need")
    ripple = Ripple(question.ripple_rad, idle, order or 1.0)
    return EVENTS[question.kind](ripple, machine.alternator_nm, question.wish)


def _refuse_absurd(event: Event) -> None:
    for speed in event.course.speeds_rad_s:
        rpm = speed * 60 / math.tau
        if not LEAST_RPM <= rpm <= MOST_RPM:
            raise TriageError(
                f"An engine speed of {rpm:.0f} r/min is none that I take: {LEAST_RPM:.0f} to {MOST_RPM:.0f} are.",
                "Check the speed and its unit.",
            )
    if not event.seconds <= LONGEST_S:
        raise TriageError(
            f"The run would take {event.seconds:.0f} s; the longest that I work out is {LONGEST_S:.0f} s.",
            "Ask for a faster rate or fewer seconds.",
        )


def findings(answer: Answer) -> tuple[tuple[str, ...], ...]:
    """What the checks of a session would read off each variant."""
    rings = answer.series.ring_rpm.mean(axis=0)
    return tuple(
        signs(answer.event.kind, figures, float(ring)) for figures, ring in zip(answer.figures, rings, strict=True)
    )
