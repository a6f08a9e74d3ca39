"""Reads a layout file and checks that its parts can stand and run as written, each fault at its line and column."""

import math
from collections.abc import Iterator
from pathlib import Path

from triage.documents import Document, build
from triage.documents.reading import read_document
from triage.drive.layout.assembly import assemble, circles_of
from triage.drive.layout.direction import CRANK_TURN
from triage.drive.layout.mending import mended
from triage.drive.layout.plausible import implausible
from triage.drive.mechanics.geometry import BeltRouteError, route_belt, run_belt
from triage.drive.mechanics.overrun import SPRINGLESS
from triage.errors import DocumentFaulty, Fault
from triage.record.layout import Layout, Pulley
from triage.units import parse_quantity, say_quantity

LENGTH_TOLERANCE = 0.02
"""How far a belt's own length may differ from the way round pulleys placed by tape and photo; a judgement of ours."""
INERTIA_TOLERANCE = 0.01
"""How far rim and rotor together may differ from the whole: rounding of three written figures; a judgement of ours."""
SHORTEST_LIST = 2
GROOVE_RAD = math.radians(10), math.radians(180)
MOST_FRICTION = 2.0
SHORTEST_ARM_M = 0.001
"""Limits far outside any belt, so that a slip of the keyboard does not turn into a margin; a judgement of ours."""

IDLE_REV_S = 200 / 60, 2000 / 60
"""Idle speeds that are taken, wider than those of vehicles' engines, so that no Hz passes for r/min; from memory."""


def read_layout(file: Path) -> Layout:
    """Read a layout file in which the belt can run.

    Raises:
        DocumentFaulty: something in it cannot be; every fault is named with file, line and column.
        TriageError: the file cannot be read.
    """
    document = read_document(file)
    layout = build(document, Layout)
    _refuse(document, layout)
    return layout


def refuse_faulty(layout: Layout) -> None:
    """Refuse a layout that was not read from a file, as it would be if it were.

    Raises:
        DocumentFaulty: something in it cannot be.
    """
    _refuse(Document(layout.model_dump(mode="json", exclude_none=True), "layout"), layout)


def _refuse(document: Document, layout: Layout) -> None:
    faults = tuple(_faults(document, layout))
    if len(layout.pulleys) >= SHORTEST_LIST and all(pulley.at is not None for pulley in layout.pulleys):
        faults += tuple(_route_faults(document, layout)) or tuple(_length_faults(document, layout))
    if faults:
        raise DocumentFaulty(faults)


def _faults(document: Document, layout: Layout) -> Iterator[Fault]:
    if len(layout.pulleys) < SHORTEST_LIST:
        yield Fault(document.place(("pulleys",)), "A belt needs at least two pulleys.", "List all, the crank first.")
    yield from _name_faults(document, layout)
    for position in range(len(layout.pulleys)):
        yield from _pulley_faults(document, layout, position)
    yield from _tensioner_faults(document, layout)
    yield from _friction_faults(document, layout)
    yield from _idle_faults(document, layout)
    for one, most in implausible(layout):
        message = f"No drive has {one.place} {one.text}: up to {most} is taken (bounds from memory)."
        yield Fault(document.place(one.path), message, "Check the number and its unit.")


def _friction_faults(document: Document, layout: Layout) -> Iterator[Fault]:
    if layout.groove_angle and not GROOVE_RAD[0] <= parse_quantity(layout.groove_angle, "angle").value < GROOVE_RAD[1]:
        place = document.place(("groove_angle",))
        yield Fault(place, "A groove angle lies between 10° and 180°.", "PK pulleys have 40°: give the whole angle.")
    if layout.belt.friction and parse_quantity(layout.belt.friction, "number").value > MOST_FRICTION:
        place = document.place(("belt", "friction"))
        yield Fault(place, "No belt has a friction above 2.", "Give the plain coefficient, without the grooves' wedge.")


def _idle_faults(document: Document, layout: Layout) -> Iterator[Fault]:
    idle = layout.engine.idle
    if idle is None:
        return
    idle_rev_s = parse_quantity(idle, "speed").value
    if not IDLE_REV_S[0] <= idle_rev_s <= IDLE_REV_S[1]:
        place = document.place(("engine", "idle"))
        message = f"No engine idles at {idle_rev_s * 60:.0f} r/min: 200 to 2000 are taken (bounds from memory)."
        yield Fault(place, message, "Give the speed of the crank, such as 750 rpm.")


def _name_faults(document: Document, layout: Layout) -> Iterator[Fault]:
    names = [pulley.part for pulley in layout.pulleys]
    for position, name in enumerate(names):
        place = document.place(("pulleys", position, "part"))
        if name in names[:position]:
            yield Fault(place, f"The part '{name}' stands here a second time.", "Give each part its own name.")
        elif name == "crank" and position > 0:
            yield Fault(place, "The crank should stand first.", "List the pulleys as the belt meets them from there.")


def _tensioner_faults(document: Document, layout: Layout) -> Iterator[Fault]:
    tensioner = layout.tensioner
    if tensioner is None:
        return
    along = [pulley for pulley in layout.pulleys[1:] if not _takes_torque(pulley)]
    own = next((pulley for pulley in along if pulley.part == tensioner.pulley), None)
    if own is None:
        free = f"Name one of these: {', '.join(pulley.part for pulley in along)}." if along else "Leave tensioner out."
        message = f"The tensioner's pulley cannot be '{tensioner.pulley}': it must be one that only turns along."
        yield Fault(document.place(("tensioner", "pulley")), message, free)
    elif tensioner.pivot and own.at and math.dist(_place(tensioner.pivot), _place(own.at)) < SHORTEST_ARM_M:
        message = f"The arm's pivot stands in the middle of '{own.part}', so the arm has no length."
        yield Fault(
            document.place(("tensioner", "pivot")), message, "Give the place of the bolt that the arm turns on."
        )


def _takes_torque(pulley: Pulley) -> bool:
    """Whether a pulley drives something, as far as the layout says."""
    torque = parse_quantity(pulley.torque, "torque").value if pulley.torque else 0.0
    return pulley.part == "alternator" or pulley.pulley is not None or torque != 0


def _place(at: tuple[str, str]) -> tuple[float, ...]:
    return tuple(parse_quantity(text, "position").value for text in at)


def _pulley_faults(document: Document, layout: Layout, position: int) -> Iterator[Fault]:
    pulley = layout.pulleys[position]
    if pulley.side == "back" and pulley.diameter_is == "effective":
        place = document.place(("pulleys", position, "diameter_is"))
        hint = "Measure it over the rim and write outside, or write pitch."
        yield Fault(place, "A pulley on the belt's back has no grooves and so no effective diameter.", hint)
    if pulley.spring and pulley.pulley in SPRINGLESS:
        place = document.place(("pulleys", position, "spring"))
        hint = "Leave spring out, or write isolator or decoupler."
        yield Fault(place, f"A {pulley.pulley} pulley has no spring.", hint)
    texts = pulley.inertia, pulley.rim_inertia, pulley.rotor_inertia
    whole, rim, rotor = (parse_quantity(text, "inertia").value if text else None for text in texts)
    if whole is None:
        return
    parts = (rim or 0.0) + (rotor or 0.0)
    too_much = parts > whole * (1 + INERTIA_TOLERANCE)
    if too_much or (rim and rotor and parts < whole * (1 - INERTIA_TOLERANCE)):
        place = document.place(("pulleys", position, "inertia"))
        message = f"Rim and rotor of '{pulley.part}' do not add up to its inertia."
        yield Fault(place, message, "Leave one of the three out, or make inertia their sum.")


def _route_faults(document: Document, layout: Layout) -> Iterator[Fault]:
    circles, turns = circles_of(layout), layout.engine.turns
    crank_turn = None if turns is None else CRANK_TURN[turns]
    try:
        route_belt(circles) if crank_turn is None else run_belt(circles, crank_turn)
    except BeltRouteError as error:
        names = [f"'{pulley.part}'" for pulley in layout.pulleys]
        message = error.sentence.format(*(names[position] for position in error.pulleys))
        hint = "Check the order of the list, each side, and where these pulleys stand."
        hint = " ".join([hint, *mended(circles, names, crank_turn)])
        yield Fault(document.place(("pulleys", error.pulleys[0])), message, hint)


def _length_faults(document: Document, layout: Layout) -> Iterator[Fault]:
    if layout.belt.length is None:
        return
    drive = assemble(layout)
    if drive.belt_m is None or drive.route is None:
        return
    excess = drive.belt_m / drive.route.length_m - 1
    if abs(excess) <= LENGTH_TOLERANCE:
        return
    verdict = "too short" if excess < 0 else "too long"
    said = f"{say_quantity(drive.belt_m, 'length', digits=4)} along the cord is {verdict}"
    way = say_quantity(drive.route.length_m, "length", digits=4)
    message = f"A belt of {said}: the way round these pulleys is {way}."
    yield Fault(document.place(("belt", "length")), message, "Measure positions and diameters again, or the belt.")
