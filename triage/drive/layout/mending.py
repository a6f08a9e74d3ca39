"""What would make a belt run that cannot: one pulley on the other side, two neighbours swapped, one not reached."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from triage.drive.mechanics.geometry import BeltPath, BeltRouteError, Circle, route_belt, run_belt

MOST_SAID = 3
NEAR_M = 0.15
"""A pulley further away is rather in the wrong place of the list than passed by; a judgement of ours."""


def mended(circles: Sequence[Circle], names: Sequence[str], crank_turn: int | None) -> tuple[str, ...]:
    """Try single changes of a drive whose belt cannot run, and say which ones make it run.

    Args:
        circles: n pulleys in belt order, the crank first, lengths inside them in [m].
        names: n names, one a pulley.
        crank_turn: +1 where the crank turns counter-clockwise, −1 clockwise, none where that is not known [1].

    Returns:
        sentences; a pulley that the belt does not reach comes first.

    Source: common-practice
    """
    found = list(_unreached(circles, names, crank_turn))
    for words, changed in (*_flipped(circles, names), *_swapped(circles, names)):
        if _runs(changed, crank_turn) is not None:
            found.append(f"It runs with {words}.")
    return tuple(found[:MOST_SAID])


def _runs(circles: Sequence[Circle], crank_turn: int | None) -> BeltPath | None:
    try:
        return route_belt(circles) if crank_turn is None else run_belt(circles, crank_turn)[0]
    except BeltRouteError:
        return None


def _flipped(circles: Sequence[Circle], names: Sequence[str]) -> Iterator[tuple[str, tuple[Circle, ...]]]:
    for at in range(1, len(circles)):
        other = replace(circles[at], on_back=not circles[at].on_back)
        side = "on the belt's back" if other.on_back else "on the ribs"
        yield f"{names[at]} {side}", (*circles[:at], other, *circles[at + 1 :])


def _swapped(circles: Sequence[Circle], names: Sequence[str]) -> Iterator[tuple[str, tuple[Circle, ...]]]:
    for at in range(1, len(circles) - 1):
        changed = (*circles[:at], circles[at + 1], circles[at], *circles[at + 2 :])
        yield f"{names[at]} and {names[at + 1]} swapped in the list", changed


def _unreached(circles: Sequence[Circle], names: Sequence[str], crank_turn: int | None) -> Iterator[str]:
    """Pulleys that the belt passes by: it runs without them, and they stand clear of it on their side."""
    least = 3
    for at in range(1, len(circles) if len(circles) >= least else 0):
        others = (*circles[:at], *circles[at + 1 :])
        path = _runs(others, crank_turn)
        if path is None or path.circles != others:
            continue
        gap_m = _gap(path, at - 1, circles[at])
        if 0 < gap_m < NEAR_M:
            ends = f"{names[at - 1]} to {names[(at + 1) % len(names)]}"
            yield f"The belt does not reach {names[at]}: from {ends} it would pass {gap_m * 1000:.0f} mm away from it."


def _gap(path: BeltPath, span: int, circle: Circle) -> float:
    """How far a pulley stands off a span on the side on which it would be; less than nothing where it is pressed in."""
    run, length_m = path.spans[span], path.spans[span].length_m
    ux, uy = (run.end[0] - run.start[0]) / length_m, (run.end[1] - run.start[1]) / length_m
    sense = -path.turns[0] if path.circles[0].on_back else path.turns[0]
    turn = -sense if circle.on_back else sense
    # The belt leaves a pulley at centre − turn·radius·n, with n its heading turned left.
    aside_m = turn * (-uy * (circle.x_m - run.start[0]) + ux * (circle.y_m - run.start[1]))
    return aside_m - circle.radius_m
