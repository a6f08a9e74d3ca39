"""What a drive's figures can be at most, so that a slip of the keyboard is asked about and not worked with.

Each bound leaves a factor of three or more to the largest that was thought of. Source: from-memory, all of them.
"""

from collections.abc import Iterator

from triage.drive.layout.typed import TypedQuantity, typed_quantities
from triage.errors import QuantityImplausible
from triage.record.layout import Layout
from triage.units import parse_quantity, say_quantity

MOST = {
    "tension": 5e3,  # eight ribs at 130 N each are a thousand
    "torque": 200.0,  # a large compressor takes a tenth
    "overrun_drag": 20.0,
    "diameter": 0.6,
    "length": 10.0,
    "at": 3.0,
    "pivot": 3.0,
    "mass_per_metre": 1.0,  # ten ribs weigh a fifth
    "inertia": 2.0,  # a crank with its damper has a tenth
    "rim_inertia": 0.2,
    "rotor_inertia": 0.2,
    "arm_inertia": 0.2,
    "spring": 1e4,
    "cord_to_back": 0.01,
}
"""By the key of a layout, in SI."""
MOST_STIFF = {"belt": 2e6, "tensioner": 5e3}
"""Stiffness of a belt [N] and of an arm's spring [N·m/rad], by what it is of."""
MOST_CRANK_REV_S = 12000 / 60
"""Engine speed that is taken; from memory."""
MOST_CHANGE_REV_S2 = 50000 / 60
"""Change of engine speed in a second that is taken; from memory."""


def implausible(layout: Layout) -> Iterator[tuple[TypedQuantity, str]]:
    """Go through what is larger than anything in a drive, each with the most that is taken."""
    for one in typed_quantities(layout):
        most = MOST.get(str(next(key for key in reversed(one.path) if isinstance(key, str))))
        if one.path[-1] == "stiffness":
            most = MOST_STIFF[str(one.path[0])]
        if most is not None and abs(parse_quantity(one.text, one.kind).value) > most:
            yield one, say_quantity(most, one.kind)


def crank_rate(text: str, what: str, most: float) -> float:
    """Read an engine speed, or how much of it is lost or gained in a second.

    Args:
        text: as it was typed.
        what: what it is, for the sentence that refuses it.
        most: bound [rev/s].

    Returns:
        speed, or change of speed in a second [rev/s].

    Raises:
        QuantityImplausible: no engine does so.

    Source: from-memory
    """
    value = parse_quantity(text, "speed").value
    if value > most:
        said, bound = say_quantity(value, "speed"), say_quantity(most, "speed")
        raise QuantityImplausible(f"{what} of {said} is more than any engine has: up to {bound} is taken.", "Check it.")
    return value
