"""From the diameter that somebody measured to the one that the cord runs on, with how sure that is.

A tape gives the outside of a pulley, and that is what a bare diameter means in a layout. What is added to it comes from
the profile or from memory, so it has a width, and the width is carried into every figure that depends on it.
"""

import math
from collections.abc import Iterator

from triage.drive.mechanics.speeds import EFFECTIVE_LINE_DIFFERENTIAL_M, pitch_diameter
from triage.record.layout import Layout, Pulley
from triage.units import Quantity, parse_quantity, say_quantity

USUAL_CORD_TO_BACK_M = 0.0012
"""Cord line to the back of a PK belt where none is given; from memory."""
CORD_TO_BACK_SPREAD_M = 0.0003
"""Half-width of that distance among belts; from memory."""
OUTSIDE_SPREAD_M = 0.001
"""How far the outside diameter of a ribbed pulley may lie from its effective one, either way; from memory."""


def pitch_and_spread(layout: Layout, pulley: Pulley) -> tuple[float, float]:
    """Turn a measured diameter into the pitch diameter, and say how far it may be off.

    Args:
        layout: gives the distance of the cord from the belt's back.
        pulley: one of the layout's.

    Returns:
        pitch diameter and the half-width of what it may be, typed spreads included [m].

    Source: iso-9981, from-memory
    """
    typed = parse_quantity(pulley.diameter, "length")
    if pulley.diameter_is == "pitch":
        return typed.value, typed.spread
    if pulley.side == "ribs":
        pitch_m = pitch_diameter(typed.value)
        added_m = OUTSIDE_SPREAD_M if pulley.diameter_is != "effective" else 0.0
    else:
        cord = _cord(layout)
        pitch_m = typed.value + 2 * cord.value
        added_m = 2 * cord.spread
    # Not said which: it may be the pitch diameter already, and the width has to reach so far.
    unsaid_m = pitch_m - typed.value if pulley.diameter_is is None else 0.0
    return pitch_m, math.hypot(typed.spread, added_m, unsaid_m)


def assumptions(layout: Layout) -> Iterator[str]:
    """Say what is taken for granted about the diameters, a sentence a part, with its source and its width."""
    for pulley in layout.pulleys:
        pitch_m, spread_m = pitch_and_spread(layout, pulley)
        pitch = f"pitch {_mm(pitch_m)} ± {_mm(spread_m)}"
        if pulley.diameter_is is None:
            itself = _mm(parse_quantity(pulley.diameter, "length").value)
            yield (
                f"{pulley.part}: diameter_is does not say which diameter this is: taken as the outside one, as a tape "
                f"measures it. {_added(layout, pulley)}: {pitch}; were it the pitch diameter itself, {itself}."
            )
        elif pulley.diameter_is == "outside" and (pulley.side == "ribs" or layout.belt.cord_to_back is None):
            yield f"{pulley.part}: {_added(layout, pulley)}: {pitch}."


def _added(layout: Layout, pulley: Pulley) -> str:
    if pulley.side == "ribs":
        wider = _mm(2 * EFFECTIVE_LINE_DIFFERENTIAL_M)
        return f"Outside for effective ± {_mm(OUTSIDE_SPREAD_M)} (from memory), cord {wider} wider (ISO 9981)"
    if layout.belt.cord_to_back is not None:
        return "Cord above the belt's back as belt.cord_to_back has it"
    width = f"{_mm(USUAL_CORD_TO_BACK_M)} ± {_mm(CORD_TO_BACK_SPREAD_M)}"
    return f"Cord {width} above the belt's back (from memory; belt.cord_to_back settles it)"


def _cord(layout: Layout) -> Quantity:
    given = layout.belt.cord_to_back
    if given is not None:
        return parse_quantity(given, "length")
    return Quantity("length", USUAL_CORD_TO_BACK_M, CORD_TO_BACK_SPREAD_M, "mm", assumed=True)


def _mm(length_m: float) -> str:
    return say_quantity(length_m, "length", "mm", digits=2 if length_m < 0.01 else 4)
