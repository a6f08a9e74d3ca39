"""What unsure diameters do to a drive's figures: each is moved by its own standard uncertainty, and the changes add up.

Only diameters are moved. What else is unsure in a layout, such as its tension, is not in these figures.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from triage.drive.bay.formula import standard_uncertainty
from triage.drive.figures.kinematics import repeat_rates
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics.geometry import BeltRouteError, trace_belt

Answers = Mapping[str, tuple[float, ...] | None]
"""Figures by name; none where one is unknown."""


def uncertainties(drive: Drive, answer: Callable[[Drive], Answers]) -> dict[str, tuple[float, ...] | None]:
    """Carry the widths of the pitch diameters into figures, to first order and as independent.

    Args:
        drive: drive with n pulleys.
        answer: works figures out for a drive, each in its own unit [SI].

    Returns:
        standard uncertainty of each figure that is known, in its own unit; none where a diameter within its width would
        leave the figure unknown [SI].

    Source: jcgm-100
    """
    squares = {name: tuple(0.0 for _ in values) for name, values in answer(drive).items() if values is not None}
    unsure = dict.fromkeys(squares, False)
    for position, member in enumerate(drive.members):
        step_m = standard_uncertainty(member.pitch_spread_m)
        if not step_m:
            continue
        above, below = (answer(resized(drive, position, sign * step_m)) for sign in (1, -1))
        for name, before in squares.items():
            high, low = above.get(name), below.get(name)
            if high is None or low is None:
                unsure[name] = True
            else:
                moved = zip(before, high, low, strict=True)
                squares[name] = tuple(square + ((up - down) / 2) ** 2 for square, up, down in moved)
    return {name: None if unsure[name] else tuple(map(math.sqrt, values)) for name, values in squares.items()}


def unsure_rates(drive: Drive, crank_rev_s: float) -> dict[str, float]:
    """Say how sure the rates are that a chirp is compared with.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank [rev/s].

    Returns:
        standard uncertainty of every rate of `repeat_rates`, by name [Hz].

    Source: jcgm-100
    """
    found = uncertainties(
        drive, lambda moved: {name: (rate,) for name, rate in repeat_rates(moved, crank_rev_s).items()}
    )
    return {name: values[0] for name, values in found.items() if values}


def resized(drive: Drive, position: int, wider_m: float) -> Drive:
    """Give one pulley another diameter where it stands.

    Args:
        drive: drive with n pulleys.
        position: of the pulley among the members [1].
        wider_m: what its pitch diameter gains [m].

    Returns:
        the drive, without a path where the belt no longer runs.

    Source: common-practice
    """
    members = list(drive.members)
    members[position] = replace(members[position], pitch_m=members[position].pitch_m + wider_m)
    resized = replace(drive, members=tuple(members))
    if drive.route is None:
        return resized
    circles = list(drive.route.circles)
    circles[position] = replace(circles[position], radius_m=members[position].pitch_m / 2)
    # A hair's breadth does not turn the belt's travel round.
    sense = -drive.route.turns[0] if circles[0].on_back else drive.route.turns[0]
    try:
        return replace(resized, route=trace_belt(circles, sense))
    except BeltRouteError:
        return replace(resized, route=None)
