"""How often a mark in a rolling bearing is struck, from its inner geometry and the speed of one ring against the other.

r = (d/D)·cos α throughout, with d the element's diameter, D the pitch diameter and α the contact angle. The rate at
which elements pass a spot of either race does not depend on which ring turns, only on how fast the rings turn against
each other. What changes with the turning ring is the cage's own speed, and which race carries its mark through the
loaded zone and so comes and goes in loudness. Elements that slide a little make recorded rates up to about 1.5 %
lower. Inner geometry is not standardised: it comes from the bearing's maker.

Source: cwru-bearings, qiu-2006; the cage with its outer ring turning from memory.
"""

import math

from triage.drive.bay.formula import Formula, FormulaPart


def _outer(elements: float, element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    return elements / 2 * (1 - _roll(element_m, pitch_m, contact_rad)) * speed_rev_s


def _inner(elements: float, element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    return elements / 2 * (1 + _roll(element_m, pitch_m, contact_rad)) * speed_rev_s


def _element(element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    return pitch_m / (2 * element_m) * (1 - _roll(element_m, pitch_m, contact_rad) ** 2) * speed_rev_s


def _cage(element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    return (1 - _roll(element_m, pitch_m, contact_rad)) / 2 * speed_rev_s


def _cage_outer_turning(element_m: float, pitch_m: float, contact_rad: float, speed_rev_s: float) -> float:
    return (1 + _roll(element_m, pitch_m, contact_rad)) / 2 * speed_rev_s


def _roll(element_m: float, pitch_m: float, contact_rad: float) -> float:
    roll = element_m / pitch_m * math.cos(contact_rad)
    if roll >= 1:
        raise ValueError("An element cannot be as large as the circle that the elements run on.")
    return roll


_ELEMENTS = FormulaPart("number of rolling elements", "number", "n")
_GEOMETRY = (
    FormulaPart("element diameter", "length", "d"),
    FormulaPart("pitch circle diameter", "length", "D"),
    FormulaPart("contact angle", "angle", "α", "not-negative"),
)
_RING_SPEED = FormulaPart("speed of one ring against the other", "speed", "N")
_BEARING_LIMITS = "Pure rolling: recorded rates lie up to about 1.5 % lower. Inner geometry from the bearing's maker."

BEARINGS = (
    Formula(
        "bearing-outer",
        "How often elements pass a spot of a bearing's outer race",
        (_ELEMENTS, *_GEOMETRY, _RING_SPEED),
        "frequency",
        _outer,
        "rate = n/2·(1 − d/D·cos α)·N",
        "cwru-bearings",
        _BEARING_LIMITS,
    ),
    Formula(
        "bearing-inner",
        "How often elements pass a spot of a bearing's inner race",
        (_ELEMENTS, *_GEOMETRY, _RING_SPEED),
        "frequency",
        _inner,
        "rate = n/2·(1 + d/D·cos α)·N",
        "cwru-bearings",
        _BEARING_LIMITS,
    ),
    Formula(
        "bearing-element",
        "How often a rolling element turns about itself; a mark on it strikes twice a turn",
        (*_GEOMETRY, _RING_SPEED),
        "frequency",
        _element,
        "rate = D/(2·d)·(1 − (d/D·cos α)²)·N",
        "cwru-bearings",
        _BEARING_LIMITS,
    ),
    Formula(
        "bearing-cage",
        "How often a bearing's cage comes round, outer ring fixed",
        (*_GEOMETRY, FormulaPart("inner ring's speed", "speed", "N")),
        "frequency",
        _cage,
        "rate = ½·(1 − d/D·cos α)·N",
        "cwru-bearings",
        _BEARING_LIMITS,
    ),
    Formula(
        "bearing-cage-outer",
        "How often a bearing's cage comes round, outer ring turning and shaft fixed",
        (*_GEOMETRY, FormulaPart("outer ring's speed", "speed", "N")),
        "frequency",
        _cage_outer_turning,
        "rate = ½·(1 + d/D·cos α)·N",
        "from-memory",
        _BEARING_LIMITS,
    ),
)
