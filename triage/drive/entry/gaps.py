"""Where pulleys stand, from gaps between their rims: least squares over all that the tape reached.

A gap and both outer radii give the distance of two centres. Distances leave the whole drive free to be moved, turned
and mirrored; the crank is put at the origin, and a look at two pulleys from the crank settles the rest.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
import numpy.typing as npt

from triage.drive.mechanics.geometry import Point

Array = npt.NDArray[np.float64]
_ROUNDS = 60
_SAME_M = 0.005
"""Two ways to stand that differ by less are one."""
_AS_GOOD_M = 0.001
"""How much worse a way to stand may fit and still count; a judgement of ours."""
_MOST_TRIED = 6
_TWO = 2


@dataclass(frozen=True)
class Gap:
    """A gap between the rims of two pulleys, by their positions in the list, along the line of centres."""

    first: int
    second: int
    gap_m: float


@dataclass(frozen=True)
class Stand:
    """One way for pulleys to stand that fits what was measured.

    Args:
        places: centre of every pulley, the crank at the origin.
        residuals_m: measured less worked out, a gap.
    """

    places: tuple[Point, ...]
    residuals_m: tuple[float, ...]

    @property
    def rms_m(self) -> float:
        """Root mean square of the residuals [m]."""
        return math.sqrt(sum(one * one for one in self.residuals_m) / len(self.residuals_m))


def loose_pulleys(count: int, gaps: Sequence[Gap]) -> tuple[int, ...]:
    """Name the pulleys that gaps do not hold yet: each needs two of its own, all together 2·n − 3.

    Args:
        count: of pulleys [1].
        gaps: as measured.

    Returns:
        positions of those with the fewest gaps; nothing where there are enough [1].

    Source: common-practice
    """
    pairs = {frozenset((gap.first, gap.second)) for gap in gaps}
    own = [sum(at in pair for pair in pairs) for at in range(count)]
    few = tuple(at for at in range(count) if own[at] < min(_TWO, count - 1))
    if few or len(pairs) >= 2 * count - 3:
        return few
    return tuple(at for at in range(count) if own[at] == min(own))


@lru_cache(maxsize=32)
def stands(radii_m: tuple[float, ...], gaps: tuple[Gap, ...]) -> tuple[Stand, ...]:
    """Find every way to stand that fits the gaps about as well as the best, mirrored ones counting as one.

    Args:
        radii_m: n outer radii [m].
        gaps: as measured.

    Returns:
        ways to stand, the best first, places inside them in [m].

    Source: common-practice
    """
    solved = sorted((_settled(start, radii_m, gaps) for start in _starts(radii_m, gaps)), key=lambda one: one.rms_m)
    apart: list[Stand] = []
    for one in solved:
        close = one.rms_m <= solved[0].rms_m + _AS_GOOD_M
        if close and not any(_alike(one, other) for other in apart):
            apart.append(one)
    return tuple(apart)


def turned_to(places: Sequence[Point], looks: Sequence[tuple[int, float]]) -> tuple[Point, ...]:
    """Turn and mirror places until two pulleys are seen from the crank where they were seen.

    Args:
        places: n centres, the crank at the origin, lengths inside them in [m].
        looks: position of a pulley and its direction from the crank, counter-clockwise from the right, twice
            [rad].

    Returns:
        n centres, lengths inside them in [m].

    Source: common-practice
    """
    ways = []
    for mirrored in (1.0, -1.0):
        here = [(x, mirrored * y) for x, y in places]
        turns = [heading - math.atan2(here[at][1], here[at][0]) for at, heading in looks]
        # Both looks count alike: the turn halfway between, and how far they are from it.
        apart = math.remainder(turns[1] - turns[0], math.tau)
        turn = turns[0] + apart / 2
        ways.append((abs(apart), [_rotated(point, turn) for point in here]))
    return tuple(min(ways, key=lambda way: way[0])[1])


def _rotated(point: Point, turn: float) -> Point:
    cosine, sine = math.cos(turn), math.sin(turn)
    return point[0] * cosine - point[1] * sine, point[0] * sine + point[1] * cosine


def _starts(radii_m: tuple[float, ...], gaps: tuple[Gap, ...]) -> Iterator[Array]:
    """Where to begin: as the distances lie in a plane, then with pulleys that hang on two gaps on their other side."""
    first = _laid_out(radii_m, gaps)
    yield first
    settled = np.array(_settled(first, radii_m, gaps).places)
    ends: dict[int, set[int]] = {}
    for gap in gaps:
        ends.setdefault(gap.first, set()).add(gap.second)
        ends.setdefault(gap.second, set()).add(gap.first)
    hanging = [at for at, others in sorted(ends.items()) if len(others) == _TWO][:_MOST_TRIED]
    several = (group for size in range(1, len(hanging) + 1) for group in combinations(hanging, size))
    for group in several:
        other = settled.copy()
        for at in group:
            other[at] = _other_side(other, at, sorted(ends[at]))
        yield other
    for at in sorted(ends):
        other = settled.copy()
        near = sorted(ends[at], key=lambda one: float(np.hypot(*(settled[one] - settled[at]))))
        if len(near) >= _TWO:
            other[at] = _other_side(other, at, near)
            yield other


def _other_side(places: Array, at: int, line: Sequence[int]) -> Array:
    start, end = places[line[0]], places[line[1]]
    along = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
    from_start = places[at] - start
    on_line = start + along * float(from_start @ along)
    mirrored: Array = 2 * on_line - places[at]
    return mirrored


def _distances(radii_m: tuple[float, ...], gaps: tuple[Gap, ...]) -> list[tuple[int, int, float]]:
    return [(gap.first, gap.second, gap.gap_m + radii_m[gap.first] + radii_m[gap.second]) for gap in gaps]


def _laid_out(radii_m: tuple[float, ...], gaps: tuple[Gap, ...]) -> Array:
    """Pairs without a gap are taken as far apart as the way over others, and all laid out in a plane from that."""
    count = len(radii_m)
    far = np.full((count, count), np.inf)
    np.fill_diagonal(far, 0.0)
    for first, second, distance in _distances(radii_m, gaps):
        far[first, second] = far[second, first] = distance
    for over in range(count):
        far = np.minimum(far, far[:, over, None] + far[None, over, :])
    # The way over others is longer than the straight one; three quarters of it is a fair guess.
    measured = {frozenset((gap.first, gap.second)) for gap in gaps}
    for first, second in combinations(range(count), 2):
        if frozenset((first, second)) not in measured:
            far[first, second] = far[second, first] = 0.75 * far[first, second]
    centring = np.eye(count) - 1 / count
    values, vectors = np.linalg.eigh(-centring @ (far**2) @ centring / 2)
    laid: Array = vectors[:, -2:] * np.sqrt(np.maximum(values[-2:], 0.0))
    return laid


def _settled(start: Array, radii_m: tuple[float, ...], gaps: tuple[Gap, ...]) -> Stand:
    """Gauss and Newton's way to the least squares, damped as Levenberg and Marquardt do."""
    wanted = _distances(radii_m, gaps)
    places, damping = start - start[0], 1e-3
    misses, slopes = _misses(places, wanted)
    for _ in range(_ROUNDS):
        normal = slopes.T @ slopes
        step = np.linalg.solve(normal + damping * np.eye(len(normal)), slopes.T @ misses)
        moved = places + np.concatenate(([0.0, 0.0], step)).reshape(-1, 2)
        new_misses, new_slopes = _misses(moved, wanted)
        if float(new_misses @ new_misses) <= float(misses @ misses):
            places, misses, slopes, damping = moved, new_misses, new_slopes, max(damping / 10, 1e-12)
        else:
            damping *= 10
    return Stand(tuple((float(x), float(y)) for x, y in places), tuple(float(one) for one in misses))


def _misses(places: Array, wanted: list[tuple[int, int, float]]) -> tuple[Array, Array]:
    """Measured less worked out, and how the worked out grows with every place but the crank's."""
    misses, slopes = np.zeros(len(wanted)), np.zeros((len(wanted), 2 * len(places)))
    for row, (first, second, distance) in enumerate(wanted):
        apart = places[second] - places[first]
        length = max(float(np.hypot(*apart)), 1e-9)
        misses[row] = distance - length
        slopes[row, 2 * second : 2 * second + 2] = apart / length
        slopes[row, 2 * first : 2 * first + 2] = -apart / length
    return misses, slopes[:, 2:]


def _alike(one: Stand, other: Stand) -> bool:
    pairs = combinations(range(len(one.places)), 2)
    return all(
        abs(math.dist(one.places[i], one.places[j]) - math.dist(other.places[i], other.places[j])) < _SAME_M
        for i, j in pairs
    )
