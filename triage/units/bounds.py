"""The least and the most that a reading of each kind can be, so that a slip of the keyboard is no reading.

Each bound leaves a factor of two to ten to the smallest and the largest thing that was thought of beside it, so that
nothing real is refused. Source: from-memory, all of them.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from triage.errors import QuantityImplausible
from triage.units.catalogue import Kind

_SAID_SHORT = Fraction(1, 20)
"""How far beyond a bound a figure may be: one at the bound is said back rounded, a spread to two figures."""


@dataclass(frozen=True)
class Bound:
    """An end of what a reading of one kind can be, whatever its sign.

    Args:
        si: in the SI unit of the kind.
        said: the same as people write it.
    """

    si: float
    said: str


_SIZES = (
    Bound(1e-8, "0.01 µm"),  # a tenth of the roughness of a lapped face
    Bound(100, "100 m"),  # the longest hose or cable of a workshop
)

BOUNDS: Mapping[str, tuple[Bound, Bound]] = MappingProxyType(
    {
        "torque": (
            Bound(1e-6, "0.001 mN·m"),  # a small bearing drags with a thousand times as much
            Bound(1e5, "100 kN·m"),  # the bolts of ships' engines take a tenth of it
        ),
        "speed": (
            Bound(1e-5, "0.0006 r/min"),  # one turn a day
            Bound(1e4, "600000 r/min"),  # twice a small turbocharger
        ),
        "time": (
            Bound(1e-6, "0.001 ms"),  # the edge of an ignition pulse
            Bound(3.6e8, "100000 h"),  # eleven years
        ),
        "length": _SIZES,
        "position": _SIZES,
        "distance": (
            Bound(1, "1 m"),  # the last figure of any odometer is a hundred
            Bound(1e10, "10000000 km"),  # twice what a car is known to have been driven
        ),
        "voltage": (
            Bound(1e-6, "0.001 mV"),  # the last figure of a good voltmeter
            Bound(1e5, "100 kV"),  # twice an ignition
        ),
        "current": (
            Bound(1e-6, "0.001 mA"),  # the last figure of a good clamp
            Bound(1e4, "10000 A"),  # ten times a starter
        ),
        "temperature": (
            Bound(173.15, "−100 °C"),  # colder than any winter
            Bound(2273.15, "2000 °C"),  # hotter than any exhaust
        ),
        "angle": (
            Bound(1e-6, "0.001 mrad"),  # a fifth of a second of arc
            Bound(1000 * math.tau, "1000 turns"),
        ),
        "frequency": (
            Bound(1e-4, "0.0001 Hz"),  # once in three hours
            Bound(1e6, "1000 kHz"),  # fifty times what can be heard
        ),
        "force": (
            Bound(1e-5, "0.00001 N"),  # the weight of a milligram
            Bound(1e7, "10000 kN"),  # ten presses of a hundred tonnes
        ),
        "mass-per-length": (
            Bound(1e-6, "0.001 g/m"),  # less than a hair
            Bound(100, "100 kg/m"),  # more than a rail
        ),
        "inertia": (
            Bound(1e-9, "0.01 g·cm²"),  # a ball of a small bearing
            Bound(1e4, "10000 kg·m²"),  # the flywheel of a ship's engine
        ),
        "torsional-stiffness": (
            Bound(1e-5, "0.00001 N·m/rad"),  # a hairspring
            Bound(1e8, "100000000 N·m/rad"),  # ten times a crankshaft
        ),
        "rotational-damping": (
            Bound(1e-9, "0.000000001 N·m·s"),  # less than the smallest bearing's grease
            Bound(1e4, "10000 N·m·s"),  # ten times the damper of a ship's shaft
        ),
        "windage": (
            Bound(1e-12, "0.000000000001 N·m·s²"),  # a thousandth of a bare shaft
            Bound(100, "100 N·m·s²"),  # a ship's propeller
        ),
        "number": (
            Bound(1e-9, "0.000000001"),  # far from any ratio, share or count
            Bound(1e9, "1000000000"),
        ),
    }
)
"""Least and most of every kind, by its id. Zero is less than the least and is a reading all the same."""


def refuse_implausible(text: str, kind: Kind, size: Fraction, furthest: Fraction) -> None:
    """Refuse what cannot be at a vehicle or a bench.

    Args:
        text: what was typed.
        kind: its kind.
        size: the value without its sign, in the kind's SI unit.
        furthest: the same of the end of its range that is further from zero.

    Raises:
        QuantityImplausible: it is beyond a bound, which the message names.
    """
    least, most = BOUNDS[kind.id]
    if furthest > most.si * (1 + _SAID_SHORT):
        said = f"at most {most.said}"
    elif 0 < size < least.si * (1 - _SAID_SHORT):
        said = f"at least {least.said}" + ("" if kind.id == "temperature" else ", or nothing")
    else:
        return
    message = f"“{text}” cannot be: {kind.noun} at a vehicle or a bench is {said}."
    raise QuantityImplausible(message, "Check the number and the unit.")
