"""A vehicle's accessory drive as a person writes it down: what was measured, in the units it was measured in.

Diameters alone are enough. All else is optional; what is missing makes its results unknown. Quantities stay as they
were typed, so that a layout in a trace reads back exactly.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from triage.documents import Model
from triage.errors import TriageError
from triage.knowledge.models import PulleyType
from triage.units import parse_quantity


@dataclass(frozen=True)
class Kind:
    """Says of a field which kind of quantity it takes."""

    id: str


def _text(raw: object) -> object:
    # A bare number in a file means the kind's usual unit, as it does at every prompt.
    return str(raw) if isinstance(raw, int | float) and not isinstance(raw, bool) else raw


def _checked(kind: str, *, positive: bool) -> AfterValidator:
    def check(text: str) -> str:
        try:
            value = parse_quantity(text, kind).value
        except TriageError as error:
            # Pydantic lets only its own kind of error through with a place.
            raise ValueError(str(error)) from error
        if positive and not value > 0:
            raise ValueError("It must be more than zero.")
        return text

    return AfterValidator(check)


Length = Annotated[str, BeforeValidator(_text), _checked("length", positive=True), Kind("length")]
Position = Annotated[str, BeforeValidator(_text), _checked("position", positive=False), Kind("position")]
Force = Annotated[str, BeforeValidator(_text), _checked("force", positive=True), Kind("force")]
MassPerLength = Annotated[
    str, BeforeValidator(_text), _checked("mass-per-length", positive=True), Kind("mass-per-length")
]
Number = Annotated[str, BeforeValidator(_text), _checked("number", positive=True), Kind("number")]
Angle = Annotated[str, BeforeValidator(_text), _checked("angle", positive=True), Kind("angle")]
Inertia = Annotated[str, BeforeValidator(_text), _checked("inertia", positive=True), Kind("inertia")]
Stiffness = Annotated[
    str, BeforeValidator(_text), _checked("torsional-stiffness", positive=True), Kind("torsional-stiffness")
]
Torque = Annotated[str, BeforeValidator(_text), _checked("torque", positive=False), Kind("torque")]
Speed = Annotated[str, BeforeValidator(_text), _checked("speed", positive=True), Kind("speed")]
Time = Annotated[str, BeforeValidator(_text), _checked("time", positive=False), Kind("time")]
Damping = Annotated[
    str, BeforeValidator(_text), _checked("rotational-damping", positive=False), Kind("rotational-damping")
]
Windage = Annotated[str, BeforeValidator(_text), _checked("windage", positive=False), Kind("windage")]
PartName = Annotated[str, Field(pattern=r"^[a-z][a-z0-9-]{0,39}$")]


class Belt(Model):
    """The belt; its length is along the cord unless it is said to be the effective one printed on the belt."""

    ribs: Annotated[int, Field(ge=1, le=30)] | None = None
    mass_per_metre: MassPerLength | None = None
    stiffness: Force | None = None
    friction: Number | None = None
    length: Length | None = None
    length_is: Literal["pitch", "effective"] = "pitch"
    cord_to_back: Length | None = None


class Pulley(Model):
    """One pulley, in belt order."""

    part: PartName
    diameter: Length
    diameter_is: Literal["pitch", "effective", "outside"] | None = None
    side: Literal["ribs", "back"] = "ribs"
    at: tuple[Position, Position] | None = None
    inertia: Inertia | None = None
    rim_inertia: Inertia | None = None
    rotor_inertia: Inertia | None = None
    pulley: PulleyType | None = None
    spring: Stiffness | None = None
    overrun_drag: Torque | None = None
    torque: Torque | None = None


class Tensioner(Model):
    """An arm with a spring that keeps the belt tight."""

    pulley: PartName
    pivot: tuple[Position, Position] | None = None
    arm_inertia: Inertia | None = None
    stiffness: Stiffness | None = None


class Engine(Model):
    """What drives the belt; the way it turns is seen from the pulley end."""

    turns: Literal["clockwise", "anticlockwise"] | None = None
    cylinders: Annotated[int, Field(ge=1, le=16)] | None = None
    idle: Speed | None = None


class FreeCrank(Model):
    """A crank that nothing drives, with all that turns with it."""

    inertia: Inertia | None = None
    friction: Torque | None = None
    compression: Torque | None = None


class Simulation(Model):
    """What only a drive in time needs; what is left out has a usual value from memory."""

    arm_friction: Torque | None = None
    span_damping: Time | None = None
    rotor_drag: Torque | None = None
    windage: Windage | None = None
    lock_stiffness: Stiffness | None = None
    spring_damping: Damping | None = None
    clutch_drag: Torque | None = None
    crank: FreeCrank | None = None
    creep: bool | None = None
    ripple_order: Number | None = None


class Layout(Model):
    """A whole drive, pulleys in belt order with the crank first, seen from the pulley end."""

    about: str = ""
    belt: Belt = Belt()
    tension: Force | None = None
    groove_angle: Angle | None = None
    pulleys: tuple[Pulley, ...]
    tensioner: Tensioner | None = None
    engine: Engine = Engine()
    simulation: Simulation | None = None
