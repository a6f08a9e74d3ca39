"""What is unsure in a layout does to a drive's figures: each is moved by its standard uncertainty, and changes add up.

Diameters carry what was typed as ± and what a tape leaves open; everything else what was typed as ± or as a range.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from triage.drive.figures.derived import Derived, each
from triage.drive.figures.running import repeat_rates
from triage.drive.layout.assembly import Drive, assemble
from triage.drive.layout.ranges import unsure_layouts
from triage.drive.mechanics.geometry import BeltRouteError, trace_belt
from triage.record.layout import Layout
from triage.units import standard_uncertainty

T = TypeVar("T")
Size = TypeVar("Size", float, tuple[float, ...])


def moved(drive: Drive, answer: Callable[[Drive], T]) -> list[tuple[T, T]]:
    """Ask the same of a drive with everything unsure moved, one after the other, to either end of its uncertainty.

    Args:
        drive: drive with n pulleys.
        answer: works something out for a drive.

    Returns:
        for each what the answer is with a greater and with a smaller one.

    Source: jcgm-100
    """
    steps = [(at, standard_uncertainty(member.pitch_spread_m)) for at, member in enumerate(drive.members)]
    sizes = [(resized(drive, at, step_m), resized(drive, at, -step_m)) for at, step_m in steps if step_m]
    return [(answer(above), answer(below)) for above, below in (*sizes, *rewritten(drive))]


def rewritten(drive: Drive) -> Iterator[tuple[Drive, Drive]]:
    """Assemble a drive anew with each quantity that was typed as a range at either end of its standard uncertainty.

    Args:
        drive: drive with n pulleys, diameters left as they are.

    Returns:
        pairs of drives, without a path where the belt no longer runs.

    Source: jcgm-100
    """
    sizes = tuple(member.pitch_m for member in drive.members)
    for above, below in unsure_layouts(drive.written):
        yield _assembled(above, sizes), _assembled(below, sizes)


def _assembled(layout: Layout, sizes: tuple[float, ...]) -> Drive:
    """A drive with other data and the sizes that it had, for these are moved apart."""
    try:
        drive = assemble(layout)
    except BeltRouteError:
        unplaced = tuple(pulley.model_copy(update={"at": None}) for pulley in layout.pulleys)
        drive = assemble(layout.model_copy(update={"pulleys": unplaced}))
    for at, size_m in enumerate(sizes):
        if drive.members[at].pitch_m != size_m:
            drive = resized(drive, at, size_m - drive.members[at].pitch_m)
    return drive


def unsure(figure: Derived[Size], ends: Sequence[tuple[Derived[Size], Derived[Size]]]) -> Derived[Size]:
    """Carry what is unsure into a figure, to first order and as independent.

    Args:
        figure: as it is, in its own unit [SI].
        ends: what it is with each unsure quantity moved [SI].

    Returns:
        the figure with its standard uncertainty, in its own unit [SI].

    Source: jcgm-100
    """
    if figure.value is None or not ends:
        return figure
    squares = [0.0 for _ in each(figure.value)]
    for above, below in ends:
        if above.value is None or below.value is None:
            squares = [math.inf for _ in squares]
        else:
            pairs = zip(squares, each(above.value), each(below.value), strict=True)
            squares = [square + _half(up, down) ** 2 for square, up, down in pairs]
    widths = tuple(map(math.sqrt, squares))
    return replace(figure, uncertainty=widths if isinstance(figure.value, tuple) else widths[0])


def _half(above: float, below: float) -> float:
    """Half a difference; without end where one of the two has none."""
    if math.isinf(above) or math.isinf(below):
        return math.inf
    return (above - below) / 2


def unsure_rates(drive: Drive, crank_rev_s: float) -> dict[str, float]:
    """Say how sure the rates are that a chirp is compared with.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank [rev/s].

    Returns:
        standard uncertainty of every rate of `repeat_rates` of which it can be said, by name [Hz].

    Source: jcgm-100
    """
    ends = moved(drive, lambda other: repeat_rates(other, crank_rev_s))
    widths = {
        name: unsure(Derived(rate_hz), [(Derived(up.get(name)), Derived(down.get(name))) for up, down in ends])
        for name, rate_hz in repeat_rates(drive, crank_rev_s).items()
    }
    return {name: rate.uncertainty for name, rate in widths.items() if rate.uncertainty not in (None, math.inf)}


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
