"""A layout put together in SI figures, with what had to be assumed said and what is missing left out."""

from dataclasses import dataclass
from functools import partial

from triage.drive.layout.diameters import assumptions, pitch_and_spread
from triage.drive.layout.direction import CRANK_TURN, backwards, counted_as_solid, direction_said
from triage.drive.layout.unitless import assumed_units
from triage.drive.mechanics.arm import Arm
from triage.drive.mechanics.geometry import BeltPath, Circle, Point, route_belt, run_belt
from triage.drive.mechanics.speeds import pitch_length
from triage.knowledge.models import PulleyType
from triage.record.layout import Layout
from triage.units import parse_quantity


@dataclass(frozen=True)
class Member:
    """One pulley of the drive.

    Args:
        part: its name in the layout.
        pitch_m: pitch diameter.
        pitch_spread_m: half-width of what it may be.
        on_back: whether it runs on the back of the belt.
        inertia_kg_m2: of all that turns when nothing overruns.
        rim_kg_m2: of what is belted in front of a clutch or decoupler.
        rotor_kg_m2: of what is behind it.
        pulley: which of the four types it has.
        spring_nm_rad: stiffness of the pulley's own spring.
        drag_nm: drag while it overruns.
        load_nm: torque that the part takes; nothing for an idler, none where unknown.
    """

    part: str
    pitch_m: float
    pitch_spread_m: float
    on_back: bool
    inertia_kg_m2: float | None
    rim_kg_m2: float | None
    rotor_kg_m2: float | None
    pulley: PulleyType | None
    spring_nm_rad: float | None
    drag_nm: float | None
    load_nm: float | None


@dataclass(frozen=True)
class Drive:
    """A whole drive in SI figures; none stands for what the layout does not give.

    Args:
        about: what the layout says about itself, such as that it was invented.
        members: pulleys in running direction, crank first.
        written: what the figures came from, pulleys as they were listed.
        unplaced: parts whose position is missing; the path is known only where there are none.
        route: path of the belt.
        belt_m: pitch length that the layout gives.
        tensioner: position of the tensioner's pulley among the members, with or without data on its arm.
        arm: the tensioner's arm where all of it is given.
        assumed: what was taken for granted, one sentence each.
    """

    about: str
    written: Layout
    members: tuple[Member, ...]
    unplaced: tuple[str, ...]
    route: BeltPath | None
    belt_m: float | None
    ribs: int | None
    mass_kg_m: float | None
    stiffness_n: float | None
    friction: float | None
    groove_rad: float | None
    tension_n: float | None
    tensioner: int | None
    arm: Arm | None
    cylinders: int | None
    idle_rev_s: float | None
    assumed: tuple[str, ...]

    @property
    def alternator(self) -> int | None:
        """Position of the part whose pulley type matters: the alternator, or else the one that states a type."""
        others = list(enumerate(self.members))[1:]
        named = [i for i, member in others if member.part == "alternator"]
        typed = [i for i, member in others if member.pulley is not None]
        return next(iter(named + typed), None)


def assemble(layout: Layout) -> Drive:
    """Turn a layout into figures.

    Args:
        layout: what a person wrote down, lengths, torques and so on as typed.

    Returns:
        the drive, all figures in SI.

    Raises:
        BeltRouteError: the belt cannot run over these pulleys; a layout read from a file was checked for that.

    Source: iso-9981, from-memory
    """
    written, belt = layout, layout.belt
    unplaced = tuple(pulley.part for pulley in layout.pulleys if pulley.at is None)
    route, against = (None, False) if unplaced else _route(layout)
    if against:
        layout = backwards(layout)
    tensioner = _tensioner_position(layout)
    members = tuple(_member(layout, position, idles=position == tensioner) for position in range(len(layout.pulleys)))
    length_m = _length(belt.length)
    return Drive(
        about=layout.about,
        written=written,
        members=members,
        unplaced=unplaced,
        route=route,
        belt_m=pitch_length(length_m) if length_m is not None and belt.length_is == "effective" else length_m,
        ribs=belt.ribs,
        mass_kg_m=_si(belt.mass_per_metre, "mass-per-length"),
        stiffness_n=_si(belt.stiffness, "force"),
        friction=_si(belt.friction, "number"),
        groove_rad=_si(layout.groove_angle, "angle"),
        tension_n=_si(layout.tension, "force"),
        tensioner=tensioner,
        arm=_arm(layout, tensioner),
        cylinders=layout.engine.cylinders,
        idle_rev_s=_si(layout.engine.idle, "speed"),
        assumed=(
            *direction_said(layout, route, against=against),
            *assumptions(layout),
            *assumed_units(layout),
            *counted_as_solid(layout),
            *_unloaded(layout, members),
        ),
    )


def _route(layout: Layout) -> tuple[BeltPath, bool]:
    """The path in running direction, and whether the list runs against it."""
    circles = circles_of(layout)
    if layout.engine.turns is None:
        return route_belt(circles), False
    return run_belt(circles, CRANK_TURN[layout.engine.turns])


def _unloaded(layout: Layout, members: tuple[Member, ...]) -> tuple[str, ...]:
    if layout.tension is None or any(member.load_nm for member in members):
        return ()
    if all(member.load_nm is not None for member in members[1:]):
        return ()
    return ("No torque is given: tensions and notes while running are those of a belt without load.",)


def circles_of(layout: Layout) -> tuple[Circle, ...]:
    """Place the pulleys of a layout in the belt's plane.

    Args:
        layout: one in which every pulley has a position.

    Returns:
        n circles at pitch radius, in belt order, lengths inside them in [m].

    Source: iso-9981
    """
    return tuple(
        Circle(*_point(pulley.at), pitch_and_spread(layout, pulley)[0] / 2, pulley.side == "back")
        for pulley in layout.pulleys
        if pulley.at is not None
    )


def _member(layout: Layout, position: int, *, idles: bool) -> Member:
    pulley = layout.pulleys[position]
    whole, rim, rotor = (_si(text, "inertia") for text in (pulley.inertia, pulley.rim_inertia, pulley.rotor_inertia))
    load_nm = _si(pulley.torque, "torque")
    pitch_m, spread_m = pitch_and_spread(layout, pulley)
    return Member(
        part=pulley.part,
        pitch_m=pitch_m,
        pitch_spread_m=spread_m,
        on_back=pulley.side == "back",
        inertia_kg_m2=_whole(whole, rim, rotor),
        rim_kg_m2=_remainder(rim, whole, rotor),
        rotor_kg_m2=_remainder(rotor, whole, rim),
        pulley=pulley.pulley,
        spring_nm_rad=_si(pulley.spring, "torsional-stiffness"),
        drag_nm=_si(pulley.overrun_drag, "torque"),
        load_nm=0.0 if load_nm is None and (idles or pulley.part.startswith("idler")) else load_nm,
    )


def _tensioner_position(layout: Layout) -> int | None:
    name = layout.tensioner.pulley if layout.tensioner else "tensioner"
    return next((i for i, pulley in enumerate(layout.pulleys) if pulley.part == name), None)


def _arm(layout: Layout, position: int | None) -> Arm | None:
    tensioner = layout.tensioner
    if tensioner is None or position is None or tensioner.pivot is None:
        return None
    inertia, stiffness = _si(tensioner.arm_inertia, "inertia"), _si(tensioner.stiffness, "torsional-stiffness")
    if inertia is None or stiffness is None:
        return None
    return Arm(position, _point(tensioner.pivot), inertia, stiffness)


def _whole(whole: float | None, rim: float | None, rotor: float | None) -> float | None:
    if whole is not None:
        return whole
    return rim + rotor if rim is not None and rotor is not None else None


def _remainder(own: float | None, whole: float | None, other: float | None) -> float | None:
    if own is not None:
        return own
    return whole - other if whole is not None and other is not None else None


def _si(text: str | None, kind: str) -> float | None:
    return None if text is None else parse_quantity(text, kind).value


_length = partial(_si, kind="length")


def _point(at: tuple[str, str]) -> Point:
    x, y = (parse_quantity(text, "position").value for text in at)
    return x, y
